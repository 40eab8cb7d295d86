// What the examples of a rule show: masking MC/DC over three-valued logic.
//
// Of each single condition some example must show that it matters when it
// holds: forced to be false, alone, it would change the answer. And some
// example that it matters when it does not hold, forced the other way.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/rule_terms.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// One single condition, each way.
struct Shown {
  bool when_true = false;
  bool when_false = false;
};

// Adds what `singles`, found in one example or case, shows. Pure.
// REQUIRES: as many in `shown` as in `singles`, of `condition`.
void AddShown(const v1::Condition& condition, const std::vector<Truth>& singles,
              std::vector<Shown>& shown);

// What must be so for single condition number `at` to matter when it is `way`:
// "the participant is enrolled, and the PHQ-9 total is 20 or more". Pure.
// REQUIRES: `way` is TRUE or FALSE; the words are for `rule`.
[[nodiscard]] std::string NeededInWords(const v1::Condition& condition,
                                        size_t at, Truth way,
                                        const RuleTerms& terms);

}  // namespace turnstone
