// What a clinician reads below a chart of totals. Pure.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "rules/engine/history.h"
#include "turnstone/v1/measure.pb.h"

namespace turnstone {

// "From 16 on 4 Jan 2027 to 9 on 1 Mar 2027: 7 points better."
// REQUIRES: both are screenings with one instrument that has items.
[[nodiscard]] std::string ChangeSentence(const Fact& baseline,
                                         const Fact& latest,
                                         absl::TimeZone zone);

// "Enough to count as an improvement by delgadillo-2014 (6 points); not by
// kroenke-2001-retest (7)." Empty without verdicts.
[[nodiscard]] std::string VerdictSentence(const v1::ScoreCourse& course);

// "44 % below the baseline.", to the nearest percent. Empty where that means
// nothing (the lowest total is not 0, or higher is better), where the baseline
// may be 0, and where nothing changed.
[[nodiscard]] std::string PercentSentence(const Fact& baseline,
                                          const Fact& latest);

}  // namespace turnstone
