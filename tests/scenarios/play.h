// A scenario, played.
#pragma once

#include <string>
#include <vector>

#include "tests/scenarios/script.h"
#include "tests/scenarios/world.h"

namespace turnstone::scenarios {

// What the service answers to the step: lines, "refused: ..." if it says no,
// "NOT UNDERSTOOD: ..." if the script is wrong; none where nothing is to say.
[[nodiscard]] std::vector<std::string> Play(const Step& step, World& world);

}  // namespace turnstone::scenarios
