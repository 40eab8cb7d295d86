// What the Mann-Kendall test must not care for, and what must turn it round:
// it looks at the order of days and of values alone (Mann 1945).
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "rules/measure/mann_kendall.h"

namespace turnstone {
namespace {

using Series = std::vector<TimedValue>;

// Ties of days and of values are common. Eighteen values are too many to go
// through every order, unless few differ.
Series DrawSeries() {
  const size_t n = *rc::gen::weightedOneOf<size_t>(
      {{6, rc::gen::inRange<size_t>(0, 10)}, {1, rc::gen::just<size_t>(18)}});
  const auto numbers = [n](int below) {
    return *rc::gen::container<std::vector<int>>(n, rc::gen::inRange(0, below));
  };
  const std::vector<int> quarter_days = numbers(60);
  const std::vector<int> values = numbers(28);
  Series series;
  for (size_t i = 0; i < n; ++i) {
    series.push_back({quarter_days[i] / 4.0, static_cast<double>(values[i])});
  }
  return series;
}

template <typename Change>
MannKendall TestAfter(Series series, Change change) {
  for (TimedValue& point : series) change(point);
  return TestTrend(series);
}

bool Near(double a, double b) { return std::abs(a - b) < 1e-12; }

void RequireSame(const MannKendall& a, const MannKendall& b) {
  RC_ASSERT(a.s == b.s);
  RC_ASSERT(a.tau_a == b.tau_a);
  RC_ASSERT(a.tau_b == b.tau_b);
  RC_ASSERT(a.exact == b.exact);
  RC_ASSERT(Near(a.p_two_sided, b.p_two_sided));
  RC_ASSERT(Near(a.p_upper, b.p_upper));
  RC_ASSERT(Near(a.p_lower, b.p_lower));
  RC_ASSERT(a.z == b.z);
  RC_ASSERT(a.z_corrected == b.z_corrected);
}

void RequireTurned(const MannKendall& a, const MannKendall& b) {
  RC_ASSERT(a.s == -b.s);
  RC_ASSERT(a.exact == b.exact);
  RC_ASSERT(Near(a.variance, b.variance));
  RC_ASSERT(Near(a.p_two_sided, b.p_two_sided));
  RC_ASSERT(Near(a.p_upper, b.p_lower));
  RC_ASSERT(Near(a.p_lower, b.p_upper));
}

RC_GTEST_PROP(TestTrend, ReversedValuesTurnIt, ()) {
  const Series series = DrawSeries();
  RequireTurned(TestTrend(series), TestAfter(series, [](TimedValue& point) {
                  point.value = 27 - point.value;
                }));
}

RC_GTEST_PROP(TestTrend, ReversedDaysTurnIt, ()) {
  const Series series = DrawSeries();
  RequireTurned(TestTrend(series), TestAfter(series, [](TimedValue& point) {
                  point.day = -point.day;
                }));
}

RC_GTEST_PROP(TestTrend, OriginAndUnitDoNotMatter, ()) {
  const Series series = DrawSeries();
  const double shift = *rc::gen::inRange(-500, 500);
  const double factor = *rc::gen::inRange(1, 50) / 8.0;
  RequireSame(TestTrend(series), TestAfter(series, [=](TimedValue& point) {
                point.value = factor * point.value + shift;
              }));
  RequireSame(TestTrend(series), TestAfter(series, [=](TimedValue& point) {
                point.day = factor * point.day + shift;
              }));
}

RC_GTEST_PROP(TestTrend, OrderOfTheSeriesDoesNotMatter, ()) {
  const Series series = DrawSeries();
  Series other;
  for (const TimedValue& point : series) {
    const auto at = *rc::gen::inRange<size_t>(0, other.size() + 1);
    other.insert(other.begin() + static_cast<std::ptrdiff_t>(at), point);
  }
  RequireSame(TestTrend(series), TestTrend(other));
}

RC_GTEST_PROP(TestTrend, ProbabilitiesAreProbabilities, ()) {
  const MannKendall test = TestTrend(DrawSeries());
  for (const double p : {test.p_two_sided, test.p_upper, test.p_lower}) {
    RC_ASSERT(p > 0 && p < 1 + 1e-12);
  }
  // Each S is in one tail at least.
  RC_ASSERT(test.p_upper + test.p_lower > 1 - 1e-12);
}

}  // namespace
}  // namespace turnstone
