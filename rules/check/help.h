// What each kind of finding means, for people who write rules. The pages lie in
// help/, one for each id, and are built in.
#pragma once

#include <string>
#include <vector>

namespace turnstone {

// The page of a finding's id: a heading, a sentence that says it all, then
// paragraphs and indented examples, parted by empty lines. Null for an id that
// there is not.
[[nodiscard]] const std::string* HelpFor(const std::string& id);

// Every id there is, in order.
[[nodiscard]] std::vector<std::string> FindingIds();

}  // namespace turnstone
