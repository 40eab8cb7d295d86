// Whether an example stands where a rule's answer turns.
#pragma once

#include <optional>

#include "rules/examples/example_events.h"
#include "rules/examples/neighbours.h"

namespace turnstone {

// The smallest step by which the rule answers otherwise about the example;
// absent if none does. Pure.
// REQUIRES: `example` came from ReadExample(..., setup, rule).
[[nodiscard]] std::optional<Step> NearestOtherAnswer(const ExampleCase& example,
                                                     const Setup& setup,
                                                     int rule);

}  // namespace turnstone
