#include "service/store/scope_query.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>

#include <vector>

namespace turnstone::query {

std::string AndInScope(const SiteScope& scope, const std::string& parameter) {
  if (scope.all()) return absl::StrCat(" AND ", parameter, " IS NOT NULL ");
  return absl::StrCat(" AND site IN (SELECT value FROM json_each(", parameter,
                      ")) ");
}

std::string ScopeParameter(const SiteScope& scope) {
  if (scope.all()) return "[]";
  std::vector<std::string> quoted;
  quoted.reserve(scope.sites().size());
  for (const std::string& site : scope.sites()) {
    const std::string inner =
        absl::StrReplaceAll(site, {{"\\", "\\\\"}, {"\"", "\\\""}});
    quoted.push_back(absl::StrCat("\"", inner, "\""));
  }
  return absl::StrCat("[", absl::StrJoin(quoted, ","), "]");
}

}  // namespace turnstone::query
