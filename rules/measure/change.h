// How far apart two totals are, when missing answers leave each of them a
// range. What can be told is told; the rest is unknown.
#pragma once

#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// Whether `total` lies within `range`. Pure.
[[nodiscard]] Truth Within(Interval total, Interval range);
// Whether `value` is `least` or more. Pure.
[[nodiscard]] Truth AtLeast(Interval value, int least);

// How many points worse `later` is than `earlier`, at least and at most, on
// the scale's own direction; negative where it is better. Pure.
[[nodiscard]] Interval Worsening(const Scale& scale, Interval earlier,
                                 Interval later);

// Whether `later` is above (or below) `earlier` by at least `percent` of it,
// and by 1 point at least. `percent` is 1 to 100. Meant for totals whose lowest
// value is 0. Pure.
[[nodiscard]] Truth RoseByPercent(Interval earlier, Interval later,
                                  int percent);
[[nodiscard]] Truth FellByPercent(Interval earlier, Interval later,
                                  int percent);

// The numbers that tell one outcome from another; the site owns them.
struct OutcomeThresholds {
  int remission_at_most = 0;  // points
  int response_percent = 0;   // of the baseline
  int reliable_change = 0;    // points
};

// Every outcome the two totals leave possible, in the order of the
// enumeration; one of them when nothing is missing. Meant for totals where
// higher is worse and the lowest value is 0. Pure.
// Source of the terms: response a fall by half, remission a PHQ-9 below 5,
// reliable change Jacobson & Truax 1991; that a reliable rise comes first is a
// safety inference.
[[nodiscard]] std::vector<v1::CourseOutcome> PossibleOutcomes(
    Interval baseline, Interval latest, const OutcomeThresholds& thresholds);

}  // namespace turnstone
