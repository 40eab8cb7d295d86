// The examples of one rule: all kinds there, and each as the rule answers.
#pragma once

#include "rules/check/place.h"
#include "rules/engine/setup.h"

namespace turnstone {

// `rule`: index of the rule at `place`. Pure.
// REQUIRES: `setup` came from SetUpExamples.
void ReviewExamples(const Setup& setup, int rule, const Place& place);

}  // namespace turnstone
