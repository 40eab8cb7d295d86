// What a condition asks, in plain words.
#pragma once

#include <string>

#include "rules/engine/rule_terms.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// "the PHQ-9 total is 20 or more"; "either A, or B"; "none of: (A; B)". Pure.
[[nodiscard]] std::string ConditionInWords(const v1::Condition& condition,
                                           const RuleTerms& terms);

}  // namespace turnstone
