// What a rule does, in plain words, made from the rule itself.
#pragma once

#include <map>
#include <string>

#include "rules/engine/setup.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct RuleWords {
  // "1 working day (outcome-due) after a planned visit".
  std::string asked;
  // "the PHQ-9 total is 20 (above-range) or more; if that cannot be told,
  // raised for review at priority urgent".
  std::string raises_when;
  // "safety, stat, latched".
  std::string alert;
};

// Numbers that come from a setting stand with its name; whose they are is said
// where they are not the rule set's own. Pure.
// REQUIRES: `rule` passed LoadConfiguration, and every setting it names is in
// `settings`. An instrument that is not in `catalogue` goes by its id.
[[nodiscard]] RuleWords DescribeRule(
    const v1::Rule& rule, const Catalogue& catalogue,
    const std::map<std::string, SettingInForce>& settings);

// The numbers of `rules` for a site that overrides none of them. Pure.
// REQUIRES: `rules` passed LoadConfiguration.
[[nodiscard]] std::map<std::string, SettingInForce> OwnSettings(
    const v1::RuleSet& rules);

}  // namespace turnstone
