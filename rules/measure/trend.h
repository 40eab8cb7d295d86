// Which way a participant's totals go, and how sure that is.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/mann_kendall.h"
#include "rules/measure/slope.h"

namespace turnstone {

// With fewer values than this no order is rarer than 1 in 20, two-sided.
inline constexpr int kFewestForTrend = 5;

struct Trend {
  int count = 0;
  // How many times in a row up to the latest, each value above (below) the one
  // before.
  int rises_in_a_row = 0;
  int falls_in_a_row = 0;
  std::optional<TheilSenLine> theil_sen;
  std::optional<LeastSquaresLine> least_squares;
  MannKendall mann_kendall;
};

// `series` may be in any order; values of one day count in the order given.
// Pure.
[[nodiscard]] Trend MeasureTrend(std::vector<TimedValue> series);

// One sentence for a clinician, without a judgement on what is better: "Over 6
// totals: -1.1 points a week (95 % interval -1.9 to -0.5); so steady a course
// comes about by chance 3 times in 1000." Says so where there are too few
// totals to tell. Pure.
[[nodiscard]] std::string TrendInWords(const Trend& trend);

}  // namespace turnstone
