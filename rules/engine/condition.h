// Evaluating a condition: true, false or unknown, and why.
#pragma once

#include <string>

#include "rules/engine/truth.h"
#include "rules/engine/view.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// What a single condition saw.
struct Observation {
  Truth truth = v1::TRUTH_UNKNOWN;
  // "the PHQ-9 total is 22 (severe), which is 20 or more".
  std::string text;
};

// Answers `condition` for `view`. With `trace`, also fills in what each part
// saw. Never fails: what cannot be told is unknown. Pure.
// REQUIRES: the condition passed LoadConfiguration and its numbers are
// resolved.
[[nodiscard]] Truth Evaluate(const v1::Condition& condition, const View& view,
                             v1::ConditionTrace* trace);

// The parts, by what they look at. REQUIRES: `condition` is of that kind.
[[nodiscard]] Observation ObserveScore(const v1::ScoreCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveItem(const v1::ItemCondition& condition,
                                      const View& view);
[[nodiscard]] Observation ObserveItemUnanswered(
    const v1::ItemUnanswered& condition, const View& view);
[[nodiscard]] Observation ObserveTotalDisagrees(const View& view);
[[nodiscard]] Observation ObserveWilling(const View& view);
[[nodiscard]] Observation ObserveChange(const v1::ChangeCondition& condition,
                                        const View& view);
[[nodiscard]] Observation ObserveRises(const v1::RisesCondition& condition,
                                       const View& view);
[[nodiscard]] Observation ObserveSelfHarmEarlier(
    const v1::SelfHarmEarlier& condition, const View& view);
[[nodiscard]] Observation ObserveScreenedWithin(
    const v1::ScreenedWithin& condition, const View& view);
[[nodiscard]] Observation ObserveEnrolled(const View& view);
[[nodiscard]] Observation ObserveMissedInARow(const v1::MissedInARow& condition,
                                              const View& view);
[[nodiscard]] Observation ObserveVisitAccountedFor(const View& view);
[[nodiscard]] Observation ObserveAttendedVisits(
    const v1::AttendedVisits& condition, const View& view);
[[nodiscard]] Observation ObserveConfidenceBelow(
    const v1::ConfidenceBelow& condition, const View& view);

}  // namespace turnstone
