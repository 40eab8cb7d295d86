// The second look at a rule set, once nothing is wrong with how it is written:
// whether it does what it is meant to.
#pragma once

#include "rules/check/known.h"
#include "rules/check/load.h"
#include "rules/check/place.h"

namespace turnstone {

// Reports everything found at `file`. What its examples show; absent where an
// instrument or a number is in a file that was not given, when nothing can be
// looked at. Pure.
// REQUIRES: nothing was reported of any file so far.
[[nodiscard]] std::optional<Coverage> ReviewRuleSet(const v1::RuleSet& rules,
                                                    const Place& file,
                                                    const Known& known);

}  // namespace turnstone
