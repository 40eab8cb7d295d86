// One division of a rule set: an instrument, and rules that are asked about it.
#pragma once

#include "rules/check/check_number.h"
#include "rules/check/known.h"
#include "rules/check/place.h"

namespace turnstone {

// Reports everything wrong with how the division at `place` is written. Pure.
void CheckDivision(const v1::Division& division, const Place& place,
                   const v1::RuleSet& rules, const Known& known,
                   const SettingsByName& settings);

}  // namespace turnstone
