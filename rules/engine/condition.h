// Evaluating a condition: true, false or unknown, and why.
#pragma once

#include <cstddef>
#include <string>

#include "rules/engine/view.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// What a single condition saw.
struct Observation {
  Truth truth = v1::TRUTH_UNKNOWN;
  // "the PHQ-9 total is 22 (severe), which is 20 or more".
  std::string text;
};

// What was seen; `words` makes the text, and is called only where somebody will
// read it.
template <typename Words>
[[nodiscard]] Observation Saw(Truth truth, const View& view,
                              const Words& words) {
  Observation seen{truth, {}};
  if (view.in_words()) seen.text = words();
  return seen;
}

// With more facts in sight than these every single condition is unknown, so
// that no history, however long, holds up what others wait for. Common
// practice, no source: a programme has a few hundred at most.
inline constexpr size_t kFactsMax = 4000;

// Answers `condition` for `view`. With `trace`, also fills in what each part
// saw. Never fails: what cannot be told is unknown. Pure.
// REQUIRES: the condition passed LoadConfiguration and its numbers are
// resolved.
[[nodiscard]] Truth Evaluate(const v1::Condition& condition, const View& view,
                             v1::ConditionTrace* trace);

// How many screenings in a row a condition is about: 1 unless it says so.
[[nodiscard]] size_t RowLength(const v1::Number& in_a_row);

// The parts, by what they look at. REQUIRES: `condition` is of that kind.
[[nodiscard]] Observation ObserveScore(const v1::ScoreCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveItem(const v1::ItemCondition& condition,
                                      const View& view);
[[nodiscard]] Observation ObserveItemUnanswered(
    const v1::ItemUnanswered& condition, const View& view);
[[nodiscard]] Observation ObserveTotalDisagrees(const View& view);
[[nodiscard]] Observation ObserveResult(const v1::ResultCondition& condition,
                                        const View& view);
[[nodiscard]] Observation ObserveWilling(const View& view);
[[nodiscard]] Observation ObserveWishRecorded(const View& view);
[[nodiscard]] Observation ObserveWorse(const v1::ChangeCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveBetter(const v1::ChangeCondition& condition,
                                        const View& view);
[[nodiscard]] Observation ObserveTrend(const v1::TrendCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveOutcome(const v1::OutcomeCondition& condition,
                                         const View& view);
[[nodiscard]] Observation ObserveScreenings(const v1::ScreeningCount& condition,
                                            const View& view);
[[nodiscard]] Observation ObserveRises(const v1::RisesCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveSelfHarmEarlier(
    const v1::SelfHarmEarlier& condition, const View& view);
[[nodiscard]] Observation ObserveScreenedWithin(
    const v1::ScreenedWithin& condition, const View& view);
[[nodiscard]] Observation ObserveEnrolled(const View& view);
[[nodiscard]] Observation ObserveDischargedAs(const v1::DischargedAs& condition,
                                              const View& view);
[[nodiscard]] Observation ObserveContactSince(const View& view);
[[nodiscard]] Observation ObserveMissedInARow(const v1::MissedInARow& condition,
                                              const View& view);
[[nodiscard]] Observation ObserveVisitAccountedFor(const View& view);
[[nodiscard]] Observation ObserveAttendedVisits(
    const v1::AttendedVisits& condition, const View& view);
[[nodiscard]] Observation ObserveConfidenceBelow(
    const v1::ConfidenceBelow& condition, const View& view);

}  // namespace turnstone
