// A SiteScope in SQL.
#pragma once

#include <string>

#include "service/store/site_scope.h"

namespace turnstone::query {

// What to add to a condition on a table with a column `site`. `parameter`:
// "?7", to which ScopeParameter is bound, and which the text names in any case.
// Where the scope is all, SQLite chooses its index as it would without one.
[[nodiscard]] std::string AndInScope(const SiteScope& scope,
                                     const std::string& parameter);
[[nodiscard]] std::string ScopeParameter(const SiteScope& scope);

}  // namespace turnstone::query
