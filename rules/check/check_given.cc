#include "rules/check/check_given.h"

#include <absl/strings/str_cat.h>

#include "rules/check/check_condition.h"
#include "rules/engine/resolve_numbers.h"

namespace turnstone {
namespace {

// Every setting of every rule set, the first of a name.
SettingsByName AllSettings(const Known& known) {
  SettingsByName settings;
  for (const auto& [id, rules] : known.rule_sets) {
    for (const v1::Setting& setting : rules->setting()) {
      settings.emplace(setting.name(), &setting);
    }
  }
  return settings;
}

bool HasSetting(const v1::RuleSet& rules, const std::string& name) {
  for (const v1::Setting& setting : rules.setting()) {
    if (setting.name() == name) return true;
  }
  return false;
}

// False where a setting is named that no rule set has, or is to be looked for
// in rule sets that were not given.
bool CheckSettingsNamed(const v1::Condition& given, const Place& place,
                        const Known& known) {
  bool sound = true;
  v1::Condition copy = given;
  ForEachNumber(copy, [&](const v1::Number& number) {
    if (!number.has_setting()) return;
    sound = sound && !known.rule_sets.empty();
    for (const auto& [id, rules] : known.rule_sets) {
      if (HasSetting(*rules, number.setting())) continue;
      sound = false;
      place.Report("property-setting-unknown",
                   absl::StrCat("rule set \"", id, "\" has no setting \"",
                                number.setting(), "\""),
                   "name a setting that every rule set has, or write the "
                   "number out");
    }
  });
  return sound;
}

}  // namespace

void CheckGiven(const v1::Property& property, const Place& place,
                const Known& known, const v1::Occasion& when) {
  const Place given = place.At("given");
  if (property.has_every_open_alert()) {
    given.Report("property-given-without-event",
                 "every_open_alert has no event that given could be asked "
                 "about",
                 "remove given { ... }");
    return;
  }
  if (!CheckSettingsNamed(property.given(), given, known)) return;
  CheckCondition(property.given(), given, {known, AllSettings(known), when});
}

}  // namespace turnstone
