// What the single conditions of a rule can be, one beside another.
#pragma once

#include <functional>
#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// More than so many are not gone through.
inline constexpr size_t kMostCombinations = 200000;

// Calls `use` with every combination of what the single conditions of `rule`
// can be. What rests on one and the same thing is tied together, exactly:
// ranges of one total, one item and its being unanswered, the wish and its
// being recorded, enrolment and discharge, attended visits, missed contacts,
// the confidence, the result, and conditions that are written twice. All else
// is taken to be free, so that there may be combinations that no history gives,
// but no history gives another. False, and nothing is called, if there are too
// many. Pure.
// REQUIRES: numbers are resolved; the catalogue holds every instrument named.
[[nodiscard]] bool ForEachCombination(
    const v1::Rule& rule, const Catalogue& catalogue,
    const std::function<void(const std::vector<Truth>&)>& use);

}  // namespace turnstone
