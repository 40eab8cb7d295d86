// How fast values rise or fall: two lines through the same points.
#pragma once

#include <optional>
#include <vector>

#include "rules/measure/mann_kendall.h"

namespace turnstone {

struct SlopeRange {
  double low = 0;
  double high = 0;
};

// The median of the slopes between all pairs of days (Theil 1950, Sen 1968): a
// single odd value hardly moves it.
struct TheilSenLine {
  double slope = 0;      // a day
  double intercept = 0;  // median value - slope x median day (Conover)
  // 95 %, from the ranks of the slopes (Sen 1968, normal approximation); all
  // slopes where ties leave the approximation nothing to go by.
  SlopeRange slope_95;
};

// Absent where all values are from one day, or there are fewer than two. Pure.
[[nodiscard]] std::optional<TheilSenLine> TheilSen(
    const std::vector<TimedValue>& series);

// Ordinary least squares. One odd value can carry it away.
struct LeastSquaresLine {
  double slope = 0;      // a day
  double intercept = 0;  // value on day 0
  // Absent with two values: nothing is left to judge the spread by.
  std::optional<double> slope_error;
  // Pearson's correlation; 0 where all values are the same.
  double r = 0;
  // Of a slope at least as far from 0, by Student's t with n - 2 degrees of
  // freedom; 0 where all values lie on a slanted line, 1 on a level one. Absent
  // with two values, as is the interval.
  std::optional<double> p_two_sided;
  std::optional<SlopeRange> slope_95;
};

// Absent where all values are from one day, or there are fewer than two. Pure.
[[nodiscard]] std::optional<LeastSquaresLine> LeastSquares(
    const std::vector<TimedValue>& series);

}  // namespace turnstone
