#include <absl/strings/str_cat.h>

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "rules/check/check_ladders.h"
#include "rules/check/suggest.h"
#include "rules/duty/ladder.h"

namespace turnstone {
namespace {

void CheckPriority(const v1::SiteConfig& site, const Place& file,
                   v1::Priority priority) {
  std::vector<std::string> missing;
  // Kinds by the first two ladders that fit them.
  std::map<std::pair<int, int>, std::vector<std::string>> twice;
  for (int kind = v1::AlertKind_MIN + 1; kind <= v1::AlertKind_MAX; ++kind) {
    const auto named = static_cast<v1::AlertKind>(kind);
    const std::string& name = v1::AlertKind_Name(named);
    const std::vector<int> fitting = FittingLadders(site, named, priority);
    if (fitting.empty()) missing.push_back(name);
    if (fitting.size() > 1) twice[{fitting[0], fitting[1]}].push_back(name);
  }
  const std::string& written = v1::Priority_Name(priority);
  if (!missing.empty()) {
    file.Report(
        "ladder-missing",
        absl::StrCat("no ladder is for ", written, " with ", OneOf(missing)),
        "add it to a ladder, or a ladder for it");
  }
  for (const auto& [ladders, kinds] : twice) {
    const Place first = file.At("ladder", ladders.first);
    const Place second = file.At("ladder", ladders.second);
    second.Report(
        "ladder-given-twice",
        absl::StrCat("there is a ladder for ", written, " with ", OneOf(kinds),
                     " already, ", first.SeenFrom(second)),
        "leave it to one of them");
  }
}

}  // namespace

void CheckCover(const v1::SiteConfig& site, const Place& file) {
  for (int priority = v1::Priority_MIN + 1; priority <= v1::Priority_MAX;
       ++priority) {
    CheckPriority(site, file, static_cast<v1::Priority>(priority));
  }
}

}  // namespace turnstone
