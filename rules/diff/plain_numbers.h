// Rules with their numbers alone, whoever set them.
#pragma once

#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// The same rules with no Number naming a setting, so that two sets that decide
// alike compare alike. REQUIRES: the numbers are resolved (see Site::rules).
// Pure.
[[nodiscard]] v1::RuleSet PlainNumbers(v1::RuleSet rules);

}  // namespace turnstone
