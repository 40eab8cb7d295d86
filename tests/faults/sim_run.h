// Runs simulated lives, each twice, and tells what came of them.
#pragma once

#include <cstdint>

#include "tests/faults/simulation.h"

namespace turnstone::faults {

// `life` twice: the second must be the first again (BrokeDeterministic).
[[nodiscard]] SimulationReport SimulateTwice(const SimulationOptions& life);

struct SimRunOptions {
  uint64_t from = 1;
  // Seeds from there on, for so long on the machine's clock.
  int seconds = 30;
  // And at least so many.
  int seeds_min = 1;
  SimulationOptions life;  // its seed is not looked at
};

// Prints what it does. False if anything broke.
[[nodiscard]] bool RunSimulations(const SimRunOptions& options);

// Prints what came of one life. False if anything broke.
[[nodiscard]] bool RunOne(const SimulationOptions& life);

}  // namespace turnstone::faults
