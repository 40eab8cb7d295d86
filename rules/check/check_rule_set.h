// One rule set: every rule whole, and every number in its place.
#pragma once

#include "rules/check/known.h"
#include "rules/check/place.h"

namespace turnstone {

// Reports everything wrong with the rule set at `file`. Pure.
void CheckRuleSet(const v1::RuleSet& rules, const Place& file,
                  const Known& known);

}  // namespace turnstone
