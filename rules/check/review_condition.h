// The condition of one rule: it can go either way, and its examples show that
// every part of it matters.
#pragma once

#include <vector>

#include "rules/check/load.h"
#include "rules/check/place.h"
#include "rules/engine/setup.h"
#include "rules/examples/coverage.h"

namespace turnstone {

// `rule`: index of the rule at `place`. `shown`: by its examples. Adds to
// `coverage` what they show of what examples could show. Pure.
// REQUIRES: `setup` came from SetUpExamples.
void ReviewCondition(const Setup& setup, int rule,
                     const std::vector<Shown>& shown, const Place& place,
                     Coverage& coverage);

}  // namespace turnstone
