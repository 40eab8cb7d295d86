// Every condition of a rule, and where it stands.
#pragma once

#include <vector>

#include "rules/check/place.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct PlacedCondition {
  const v1::Condition* condition;
  Place place;
  // How many conditions come next that are parts of this one, their parts
  // included. None: it is a single condition.
  size_t parts = 0;
};

// `condition`, which stands at `place`, first; in the order written. Pure.
[[nodiscard]] std::vector<PlacedCondition> PlacedConditions(
    const v1::Condition& condition, const Place& place);

}  // namespace turnstone
