// What a rule says of one event at one moment, and why.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "turnstone/v1/explain.pb.h"

namespace turnstone {

// What is known of a participant at a moment, and whose rules are asked. What
// it refers to must outlive it.
struct Knowledge {
  const Setup& setup;
  const Site& site;  // one of the setup's
  const History& history;
  absl::Time moment;
};

// The answer without the words.
struct RuleSaid {
  v1::Outcome outcome = v1::OUTCOME_NOT_ASKED;
  // As in RuleOutcome. Of no meaning for OUTCOME_NOT_ASKED.
  absl::Time due;
  // Facts up to here were looked at. Only where it was asked.
  absl::Time seen_until;
};

// What rule `rule` (index into site.rules) says of fact `at` by its latest
// asking up to the moment. Pure. REQUIRES: at < history.facts().size().
[[nodiscard]] RuleSaid SaidOf(int rule, size_t at, const Knowledge& known);

// The same in words. Pure.
[[nodiscard]] v1::RuleOutcome OutcomeOf(int rule, size_t at,
                                        const Knowledge& known);

// Of every rule, in the order of the rule set. Pure.
[[nodiscard]] std::vector<v1::RuleOutcome> OutcomesOf(size_t at,
                                                      const Knowledge& known);

// Of a rule that is not asked: which one, and what it is asked about. Pure.
[[nodiscard]] v1::RuleOutcome NotAsked(int rule, const Setup& setup,
                                       const Site& site);

// What the condition of `rule` sees of fact `at` with every fact up to `until`.
// Pure.
[[nodiscard]] v1::ConditionTrace TraceAt(int rule, size_t at, absl::Time until,
                                         const Knowledge& known);

// It raises, because it applies or because it cannot tell. Pure.
[[nodiscard]] bool Raises(v1::Outcome outcome);

}  // namespace turnstone
