#include "rules/check/check_division.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/check/check_condition.h"
#include "rules/check/check_course.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

bool IsAskedAtOnce(const v1::Rule& rule, const std::string& instrument) {
  const auto& asked = rule.when().screening().instrument();
  return !rule.when().has_after_days() &&
         !rule.when().has_after_working_days() &&
         std::find(asked.begin(), asked.end(), instrument) != asked.end();
}

void CheckRules(const v1::Division& division, const Place& place,
                const v1::RuleSet& rules) {
  std::map<std::string, const v1::Rule*> by_id;
  for (const v1::Rule& rule : rules.rule()) by_id[rule.id()] = &rule;
  if (division.rule_size() < 2) {
    place.Report("division-too-small",
                 "a division is between two rules or more",
                 "write rule: \"...\" twice or more");
  }
  Names names("rule");
  for (int i = 0; i < division.rule_size(); ++i) {
    const std::string& id = division.rule(i);
    const Place at = place.At("rule", i);
    if (!names.Add(at, id)) continue;
    const v1::Rule* rule = Lookup(by_id, true, "rule", id, at);
    if (rule == nullptr || IsAskedAtOnce(*rule, division.instrument())) {
      continue;
    }
    at.Report("division-rule-not-asked",
              absl::StrCat("rule \"", id, "\" is not asked about ",
                           division.instrument(), " at once"),
              "name rules only that say when { screening { ... } } with that "
              "instrument, and no after_");
  }
}

}  // namespace

void CheckDivision(const v1::Division& division, const Place& place,
                   const v1::RuleSet& rules, const Known& known,
                   const SettingsByName& settings) {
  RequireId(place, "id");
  v1::Occasion when;
  when.mutable_screening()->add_instrument(division.instrument());
  const RuleContext context{known, settings, when};
  const Scale* scale = CheckScored(division.instrument(), place, context);
  CheckRules(division, place, rules);
  if (division.has_none_at_most()) {
    NumberPlace points{"points", std::nullopt};
    if (scale != nullptr) points.range = scale->Range();
    CheckNumber(place, "none_at_most", points, settings);
  }
  if (division.has_among()) {
    CheckCondition(division.among(), place.At("among"), context);
  }
}

}  // namespace turnstone
