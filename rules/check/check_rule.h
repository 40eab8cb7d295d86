// One rule: who answers for it, when it is asked, and what it asks for.
#pragma once

#include "rules/check/check_number.h"
#include "rules/check/known.h"
#include "rules/check/place.h"

namespace turnstone {

void CheckRule(const v1::Rule& rule, const Place& place, const Known& known,
               const SettingsByName& settings);

}  // namespace turnstone
