// Lives nobody lived: everything a service may be sent of one participant.
#pragma once

#include <vector>

#include "tests/second/engine_side.h"

namespace turnstone::second {

// 1 to 14 events in the order of recording, each valid after those before it.
// The same for the same seed.
[[nodiscard]] std::vector<Recorded> RandomHistory(
    const v1::Configuration& configuration, uint64_t seed);

// Without the event at `index`, and without every correction of it.
[[nodiscard]] std::vector<Recorded> Without(std::vector<Recorded> history,
                                            size_t index);

}  // namespace turnstone::second
