// Comparing two configurations, site by site.
#pragma once

#include <absl/status/statusor.h>

#include <string>
#include <vector>

#include "clients/cli/render/diff_page.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::cli {

// Of `site`; if empty, of every site both have, and of every rule set both have
// and none of those sites uses, with its own numbers. Then what is shared by
// all, and what only one of the two has. NOT_FOUND, saying what to write, if
// there is no such site, or a file is missing that it takes. REQUIRES: both
// were checked.
[[nodiscard]] absl::StatusOr<std::vector<RulesDifference>> DiffSites(
    const v1::Configuration& before, const v1::Configuration& after,
    const std::string& site);

}  // namespace turnstone::cli
