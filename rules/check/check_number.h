// Numbers in rules: written out, or the name of a setting.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "rules/check/place.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

using SettingsByName = std::map<std::string, const v1::Setting*>;

// What a number may be in its place.
struct NumberPlace {
  std::string unit;
  // Absent: what is possible is not known here.
  std::optional<Interval> range;
  // Whose points a change is counted in; empty where it does not matter.
  std::string instrument = {};
};

// Reports what is wrong with the Number in `field` of the message at `place`,
// which must be there. Its value, or the rule set's for a setting; absent if
// anything is wrong.
std::optional<int> CheckNumber(const Place& place, const std::string& field,
                               const NumberPlace& allowed,
                               const SettingsByName& settings);

}  // namespace turnstone
