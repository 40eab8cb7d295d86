// Single conditions that rest on one and the same thing.
#pragma once

#include <set>
#include <string>
#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

using Singles = std::vector<const v1::Condition*>;

// What `condition` rests on: the same words for conditions that rest on the
// same. Pure, as is the other. REQUIRES: as ForEachCombination.
[[nodiscard]] std::string RestsOn(const v1::Condition& condition,
                                  const v1::Rule& rule,
                                  const Catalogue& catalogue);

// Everything that `tied`, which all rest on the same, can be together.
[[nodiscard]] std::set<std::vector<Truth>> TiedTruths(
    const Singles& tied, const v1::Rule& rule, const Catalogue& catalogue);

}  // namespace turnstone
