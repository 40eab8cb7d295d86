// The examples of one rule: all kinds there, and each as the rule answers.
#pragma once

#include <vector>

#include "rules/check/place.h"
#include "rules/engine/setup.h"
#include "rules/examples/coverage.h"

namespace turnstone {

// `rule`: index of the rule at `place`. What its examples show of each single
// condition. Pure. REQUIRES: `setup` came from SetUpExamples.
[[nodiscard]] std::vector<Shown> ReviewExamples(const Setup& setup, int rule,
                                                const Place& place);

}  // namespace turnstone
