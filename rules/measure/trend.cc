#include "rules/measure/trend.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include <algorithm>
#include <cmath>

namespace turnstone {
namespace {

constexpr double kWeek = 7;  // days

void CountRow(const std::vector<TimedValue>& series, Trend& trend) {
  for (size_t i = 1; i < series.size(); ++i) {
    const double change = series[i].value - series[i - 1].value;
    trend.rises_in_a_row = change > 0 ? trend.rises_in_a_row + 1 : 0;
    trend.falls_in_a_row = change < 0 ? trend.falls_in_a_row + 1 : 0;
  }
}

// Rounded first, and 0 added, so that none reads "-0.0".
std::string Points(double points) {
  return absl::StrFormat("%.1f", std::round(points * 10) / 10 + 0.0);
}

// Points a week, with a sign where they are not 0.
std::string Weekly(double slope) {
  const std::string points = Points(slope * kWeek);
  return absl::StrCat(points[0] == '-' || points == "0.0" ? "" : "+", points);
}

std::string ByChance(const MannKendall& test) {
  const double in_1000 = test.p_two_sided * 1000;
  std::string often = absl::StrFormat("%.0f times in 1000", in_1000);
  if (in_1000 < 1.5) often = "once in 1000";
  if (in_1000 < 1) often = "less than once in 1000";
  if (in_1000 >= 500) often = "more often than not";
  return absl::StrCat("so steady a course comes about by chance ", often,
                      test.exact ? "" : " (normal approximation)");
}

// Nothing for a single step, which says little.
std::string InARow(const Trend& trend) {
  if (trend.rises_in_a_row > 1) {
    return absl::StrCat("; it has risen ", trend.rises_in_a_row,
                        " times in a row");
  }
  if (trend.falls_in_a_row > 1) {
    return absl::StrCat("; it has fallen ", trend.falls_in_a_row,
                        " times in a row");
  }
  return "";
}

}  // namespace

Trend MeasureTrend(std::vector<TimedValue> series) {
  std::stable_sort(
      series.begin(), series.end(),
      [](const TimedValue& a, const TimedValue& b) { return a.day < b.day; });
  Trend trend;
  trend.count = static_cast<int>(series.size());
  CountRow(series, trend);
  trend.theil_sen = TheilSen(series);
  trend.least_squares = LeastSquares(series);
  trend.mann_kendall = TestTrend(series);
  return trend;
}

std::string TrendInWords(const Trend& trend) {
  if (trend.count == 0) return "No trend: no totals.";
  if (trend.count == 1) return "No trend: one total.";
  if (!trend.theil_sen) return "No trend: all totals are from one day.";
  if (trend.count < kFewestForTrend) {
    return absl::StrCat("With ", trend.count,
                        " totals no trend can be told from chance",
                        InARow(trend), ".");
  }
  const SlopeRange& range = trend.theil_sen->slope_95;
  return absl::StrCat("Over ", trend.count,
                      " totals: ", Weekly(trend.theil_sen->slope),
                      " points a week (95 % interval ", Weekly(range.low),
                      " to ", Weekly(range.high), "); ",
                      ByChance(trend.mann_kendall), InARow(trend), ".");
}

}  // namespace turnstone
