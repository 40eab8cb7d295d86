// Conditions that compare totals: on which instrument they make sense, and with
// which numbers.
#pragma once

#include "rules/check/check_condition.h"

namespace turnstone {

// The instrument in the field "instrument" of the message at `place`. Null if
// it is not known, or unsound; CheckScored reports one that has no total.
const Scale* CheckInstrument(const std::string& instrument, const Place& place,
                             const RuleContext& rule);
const Scale* CheckScored(const std::string& instrument, const Place& place,
                         const RuleContext& rule);

// The field "in_a_row" of the message at `place`, if it is written.
template <typename Condition>
void CheckInARow(const Condition& condition, const Place& place,
                 const RuleContext& rule) {
  if (!condition.has_in_a_row()) return;
  CheckNumber(place, "in_a_row", {"visits", Interval{1, 20}}, rule.settings);
}

void CheckChange(const v1::ChangeCondition& change, const Place& place,
                 const RuleContext& rule);
void CheckTrend(const v1::TrendCondition& trend, const Place& place,
                const RuleContext& rule);
void CheckOutcome(const v1::OutcomeCondition& outcome, const Place& place,
                  const RuleContext& rule);
void CheckScreenings(const v1::ScreeningCount& screenings, const Place& place,
                     const RuleContext& rule);
// Every instrument the rule is asked about has every result named.
void CheckResult(const v1::ResultCondition& result, const Place& place,
                 const RuleContext& rule);

}  // namespace turnstone
