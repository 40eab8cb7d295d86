// A site's own tables, and the main rules as queries over them.
#pragma once

#include <map>
#include <set>
#include <string>

#include "rules/engine/setup.h"

namespace turnstone {

// By the names they have here.
[[nodiscard]] const std::set<std::string>& SiteRules();
[[nodiscard]] std::string SiteTables();
// The queries by name, at the numbers of `setup`: "form rule ..." and "outcome
// rule ..." about the one of ?1 at ?2, "nightly ..." about all, "unaccounted"
// about plans from before ?1.
[[nodiscard]] std::map<std::string, std::string> SiteQueries(
    const Setup& setup);

}  // namespace turnstone
