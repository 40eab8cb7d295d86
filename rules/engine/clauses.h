// A single condition in words, and the same denied.
#pragma once

#include <string>

#include "rules/engine/rule_terms.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct Clause {
  // "the self-harm item": what both begin with, and what "it" can stand for
  // when it is named again. Empty where nothing can.
  std::string subject;
  std::string holds;  // "scores 1 or more"
  std::string fails;  // "scores less than 1"
};

// The parts, by what they look at. Pure.
[[nodiscard]] Clause ScoreClause(const v1::ScoreCondition& condition,
                                 const RuleTerms& terms);
[[nodiscard]] Clause ItemClause(const v1::ItemCondition& condition,
                                const RuleTerms& terms);
[[nodiscard]] Clause UnansweredClause(const v1::ItemUnanswered& condition,
                                      const RuleTerms& terms);
[[nodiscard]] Clause ResultClause(const v1::ResultCondition& condition,
                                  const RuleTerms& terms);
// `way`: "worse" or "better".
[[nodiscard]] Clause ChangeClause(const v1::ChangeCondition& condition,
                                  const std::string& way,
                                  const RuleTerms& terms);
[[nodiscard]] Clause TrendClause(const v1::TrendCondition& condition,
                                 const RuleTerms& terms);
[[nodiscard]] Clause OutcomeClause(const v1::OutcomeCondition& condition,
                                   const RuleTerms& terms);
[[nodiscard]] Clause RisesClause(const v1::RisesCondition& condition,
                                 const RuleTerms& terms);
[[nodiscard]] Clause ScreeningsClause(const v1::ScreeningCount& condition,
                                      const RuleTerms& terms);
[[nodiscard]] Clause ContactClause(const RuleTerms& terms);
[[nodiscard]] Clause DischargedClause(const v1::DischargedAs& condition);
[[nodiscard]] Clause MissedClause(const v1::MissedInARow& condition,
                                  const RuleTerms& terms);
[[nodiscard]] Clause SelfHarmClause(const v1::SelfHarmEarlier& condition,
                                    const RuleTerms& terms);
[[nodiscard]] Clause AttendedClause(const v1::AttendedVisits& condition,
                                    const RuleTerms& terms);
[[nodiscard]] Clause ConfidenceClause(const v1::ConfidenceBelow& condition,
                                      const RuleTerms& terms);
[[nodiscard]] Clause ScreenedClause(const v1::ScreenedWithin& condition,
                                    const RuleTerms& terms);

}  // namespace turnstone
