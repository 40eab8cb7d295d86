#include "rules/check/check_rule_set.h"

#include <absl/strings/str_cat.h>

#include <limits>

#include "rules/check/check_division.h"
#include "rules/check/check_rule.h"
#include "rules/check/require.h"

namespace turnstone {
namespace {

constexpr int kMostRules = 500;

void CheckUnit(const v1::Setting& setting, const Place& place) {
  for (const char* unit :
       {"points", "visits", "days", "percent", "per thousand", "hours"}) {
    if (setting.unit() == unit) return;
  }
  place.At("unit").Report(
      "unknown-unit",
      setting.unit().empty()
          ? "unit is missing or empty"
          : absl::StrCat("\"", setting.unit(), "\" is not a unit"),
      "write one of points, visits, days, percent, per thousand or hours");
}

void CheckSetting(const v1::Setting& setting, const Place& place) {
  RequireId(place, "name");
  CheckUnit(setting, place);
  RequireText(place, "source",
              "where the number comes from; \"common practice, no source\" if "
              "so");
  const bool low = RequireNumber(place, "low", kAnyNumber);
  const bool high = RequireNumber(place, "high", kAnyNumber);
  if (!low || !high) return;
  if (setting.low() > setting.high()) {
    place.At("low").Report("range-upside-down", "low is higher than high",
                           "swap them");
    return;
  }
  // Where it could not be taken from a reliability, that is what to report.
  if (setting.has_reliable_change() && !setting.has_value()) return;
  RequireNumber(place, "value", {setting.low(), setting.high()});
}

SettingsByName CheckSettings(const v1::RuleSet& rules, const Place& file) {
  SettingsByName settings;
  Names names("setting");
  for (int i = 0; i < rules.setting_size(); ++i) {
    const v1::Setting& setting = rules.setting(i);
    const Place place = file.At("setting", i);
    CheckSetting(setting, place);
    names.Add(place.At("name"), setting.name());
    settings.emplace(setting.name(), &setting);
  }
  return settings;
}

}  // namespace

void CheckRuleSet(const v1::RuleSet& rules, const Place& file,
                  const Known& known) {
  RequireId(file, "id");
  RequireNumber(file, "version", {1, std::numeric_limits<int>::max()});
  RequireText(file, "title", "a name for people");
  const SettingsByName settings = CheckSettings(rules, file);
  if (rules.rule().empty()) {
    file.Report("rule-set-empty", "the rule set has no rule",
                "add rule { id: \"...\" ... }");
  }
  if (rules.rule_size() > kMostRules) {
    file.At("rule", kMostRules)
        .Report(
            "too-many-rules",
            absl::StrCat("the rule set has more than ", kMostRules, " rules"),
            "split it, or remove rules");
  }
  Names ids("rule id");
  for (int i = 0; i < rules.rule_size(); ++i) {
    const Place place = file.At("rule", i);
    ids.Add(place.At("id"), rules.rule(i).id());
    CheckRule(rules.rule(i), place, known, settings);
  }
  Names divisions("division id");
  for (int i = 0; i < rules.division_size(); ++i) {
    const Place place = file.At("division", i);
    divisions.Add(place.At("id"), rules.division(i).id());
    CheckDivision(rules.division(i), place, rules, known, settings);
  }
}

}  // namespace turnstone
