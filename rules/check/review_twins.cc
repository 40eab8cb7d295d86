#include "rules/check/review_twins.h"

#include <absl/strings/str_cat.h>

#include <map>
#include <string>

namespace turnstone {

void ReviewTwins(const v1::RuleSet& rules, const Place& file) {
  std::map<std::string, int> first;
  for (int i = 0; i < rules.rule_size(); ++i) {
    v1::Rule asks;
    *asks.mutable_when() = rules.rule(i).when();
    *asks.mutable_condition() = rules.rule(i).condition();
    const auto [twin, is_new] = first.emplace(asks.SerializeAsString(), i);
    if (is_new) continue;
    const Place here = file.At("rule", i).At("condition");
    here.Report(
        "same-condition-as",
        absl::StrCat(
            "rule \"", rules.rule(twin->second).id(),
            "\" has the same condition for the same event, ",
            file.At("rule", twin->second).At("condition").SeenFrom(here)),
        "remove one of the rules, or tell them apart");
  }
}

}  // namespace turnstone
