// Conditions: complete, possible, and sensible for the event they are asked
// about.
#pragma once

#include "rules/check/check_number.h"
#include "rules/check/known.h"
#include "rules/check/place.h"

namespace turnstone {

// The rule a condition belongs to.
struct RuleContext {
  const Known& known;
  const SettingsByName& settings;
  const v1::Occasion& when;
};

// `depth` counts conditions from the outermost, which is 1.
void CheckCondition(const v1::Condition& condition, const Place& place,
                    const RuleContext& rule, int depth = 1);

// An item of the form, in every instrument the rule is asked about.
void CheckItem(const v1::ItemCondition& item, const Place& place,
               const RuleContext& rule);
void CheckItem(const v1::ItemUnanswered& item, const Place& place,
               const RuleContext& rule);

}  // namespace turnstone
