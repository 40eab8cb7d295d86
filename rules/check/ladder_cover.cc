#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "rules/check/check_ladders.h"
#include "rules/check/suggest.h"

namespace turnstone {
namespace {

using Choices = google::protobuf::RepeatedField<int>;

bool HasChoice(const Choices& choices, int value) {
  return std::find(choices.begin(), choices.end(), value) != choices.end();
}

// Indexes of the ladders for that kind: those that name it or, where none does,
// those that name no kind at all.
std::vector<int> Fitting(const v1::SiteConfig& site, int priority, int kind) {
  std::vector<int> by_name;
  std::vector<int> for_the_rest;
  for (int i = 0; i < site.ladder_size(); ++i) {
    const v1::Ladder& ladder = site.ladder(i);
    if (!HasChoice(ladder.priority(), priority)) continue;
    if (ladder.kind().empty()) for_the_rest.push_back(i);
    if (HasChoice(ladder.kind(), kind)) by_name.push_back(i);
  }
  return by_name.empty() ? for_the_rest : by_name;
}

void CheckPriority(const v1::SiteConfig& site, const Place& file,
                   v1::Priority priority) {
  std::vector<std::string> missing;
  // Kinds by the first two ladders that fit them.
  std::map<std::pair<int, int>, std::vector<std::string>> twice;
  for (int kind = v1::AlertKind_MIN + 1; kind <= v1::AlertKind_MAX; ++kind) {
    const std::string name =
        v1::AlertKind_Name(static_cast<v1::AlertKind>(kind));
    const std::vector<int> fitting = Fitting(site, priority, kind);
    if (fitting.empty()) missing.push_back(name);
    if (fitting.size() > 1) twice[{fitting[0], fitting[1]}].push_back(name);
  }
  const std::string& written = v1::Priority_Name(priority);
  if (!missing.empty()) {
    file.Report(
        absl::StrCat("no ladder is for ", written, " with ", OneOf(missing)),
        "add it to a ladder, or a ladder for it");
  }
  for (const auto& [ladders, kinds] : twice) {
    const Place first = file.At("ladder", ladders.first);
    const Place second = file.At("ladder", ladders.second);
    second.Report(
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
