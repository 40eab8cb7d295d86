// What two sets of rules ask of people, side by side.
#pragma once

#include <string>

#include "rules/replay/difference.h"

namespace turnstone::cli {

// Reasons raised by kind, and by week with a bar each.
[[nodiscard]] std::string ReplayBurden(const Difference& difference);

}  // namespace turnstone::cli
