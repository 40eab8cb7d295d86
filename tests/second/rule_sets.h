// The rules the two evaluators are held against each other with.
#pragma once

#include "turnstone/v1/site.pb.h"

namespace turnstone::second {

// Site of the odd rules.
inline constexpr char kOddSite[] = "odd-corner";
inline constexpr char kShippedSite[] = "pebble-bay";

// What we ship and, for a site of their own with pebble-bay's calendar, the odd
// rules. Aborts, printing the findings, if they do not load.
[[nodiscard]] v1::Configuration BothRuleSets();

}  // namespace turnstone::second
