// BrokeExplained: every alert can be explained, at any time.
#pragma once

#include <string>
#include <vector>

#include "tests/scenarios/world.h"

namespace turnstone::scenarios {

// A line for every reason of every alert that is not explained by what stands
// on it: its own rule, asked by what was known then and the rules of then, says
// the same. Empty: all are.
[[nodiscard]] std::vector<std::string> Unexplained(World& world);

}  // namespace turnstone::scenarios
