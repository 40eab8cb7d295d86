// Rules that say the same.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// Reports rules with the same occasion and condition as an earlier one of the
// rule set at `file`. Pure.
void ReviewTwins(const v1::RuleSet& rules, const Place& file);

}  // namespace turnstone
