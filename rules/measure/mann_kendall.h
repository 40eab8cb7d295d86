// Whether values rise or fall over time more steadily than chance would have
// it: Mann 1945, Kendall 1975; as in Helsel & Hirsch 2002, USGS TWRI 4-A3.
#pragma once

#include <optional>
#include <vector>

#include "rules/measure/permutation.h"

namespace turnstone {

// A value at a moment, in days from any origin; fractions are allowed.
// REQUIRES: both are finite.
struct TimedValue {
  double day = 0;
  double value = 0;
};

struct MannKendall {
  // Pairs that rise minus pairs that fall; pairs on one day do not count.
  int s = 0;
  // s over the number of pairs, and over the pairs without a tie. Absent with
  // fewer than two values, and tau-b where all days or all values are the same.
  std::optional<double> tau_a;
  std::optional<double> tau_b;
  // Probability of an s at least as far from 0, as high, as low, if every order
  // of the values over the days were as likely. 1 where nothing can differ.
  double p_two_sided = 1;
  double p_upper = 1;
  double p_lower = 1;
  // False: too many orders to go through, so the three probabilities are the
  // normal distribution's, with continuity correction.
  bool exact = true;
  // Variance of s under chance, ties of days and of values taken in.
  double variance = 0;
  // s in standard deviations, with and without continuity correction. Absent
  // where the variance is 0.
  std::optional<double> z_corrected;
  std::optional<double> z;
};

// Order of `series` does not matter, save for its days. Exact for any 14
// values, and for longer series with many ties. Pure.
[[nodiscard]] MannKendall TestTrend(const std::vector<TimedValue>& series);
// The same for many series one after another: what was reckoned for one pattern
// of ties is kept in `known`.
[[nodiscard]] MannKendall TestTrend(const std::vector<TimedValue>& series,
                                    KnownDistributions& known);

// Two-sided probability of a standard normal value at least as far from 0 as
// `z`. Pure.
[[nodiscard]] double NormalTwoSided(double z);

}  // namespace turnstone
