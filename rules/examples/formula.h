// A condition as a formula: single conditions, tied together by "all of", "any
// of" and "not".
#pragma once

#include <vector>

#include "rules/measure/truth.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// The single conditions, in the order in which they are written. Pure, as are
// all.
[[nodiscard]] std::vector<const v1::Condition*> SinglesOf(
    const v1::Condition& condition);

// What each of them was found to be.
[[nodiscard]] std::vector<Truth> SinglesIn(const v1::ConditionTrace& trace);

// What `condition` is if its single conditions are `singles`. With `parts`,
// also what each condition in it is, itself first, in the order written.
[[nodiscard]] Truth Fold(const v1::Condition& condition,
                         const std::vector<Truth>& singles,
                         std::vector<Truth>* parts = nullptr);

// Whether the whole would be something else if single condition `at` alone were
// false instead of true, or true instead of false. Not if it is unknown.
[[nodiscard]] bool Matters(const v1::Condition& condition,
                           std::vector<Truth> singles, size_t at);

}  // namespace turnstone
