// The single conditions of a rule.
#pragma once

#include <functional>

#include "rules/engine/setup.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// Calls `use` with each single condition in `condition`, however deep.
void ForEachLeaf(const v1::Condition& condition,
                 const std::function<void(const v1::Condition&)>& use);

// The same site with those of its rules only for which `wanted` is true.
[[nodiscard]] Site WithRules(
    const Site& site, const std::function<bool(const v1::Rule&)>& wanted);

}  // namespace turnstone
