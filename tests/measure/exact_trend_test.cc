// The exact probabilities of the Mann-Kendall test: orders counted one by one.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <string>

#include "rules/measure/mann_kendall.h"
#include "tests/measure/timed_values.h"

namespace turnstone::testing {
namespace {

struct ShortCase {
  std::string why;
  std::vector<double> values;  // a week apart
  int s;
  double two_sided;
  double upper;
  double lower;
};

class ShortSeries : public ::testing::TestWithParam<ShortCase> {};

TEST_P(ShortSeries, HasExactProbabilities) {
  const ShortCase& c = GetParam();
  SCOPED_TRACE(c.why);
  const MannKendall test = TestTrend(Every(7, c.values));
  EXPECT_TRUE(test.exact);
  EXPECT_EQ(test.s, c.s);
  EXPECT_NEAR(test.p_two_sided, c.two_sided, 1e-12);
  EXPECT_NEAR(test.p_upper, c.upper, 1e-12);
  EXPECT_NEAR(test.p_lower, c.lower, 1e-12);
}

// Orders counted one by one, over all there are.
INSTANTIATE_TEST_SUITE_P(
    Counted, ShortSeries,
    ::testing::Values(
        ShortCase{"none", {}, 0, 1, 1, 1}, ShortCase{"one", {12}, 0, 1, 1, 1},
        ShortCase{"two, level", {12, 12}, 0, 1, 1, 1},
        ShortCase{"two, falling", {12, 10}, -1, 1, 1, .5},
        ShortCase{"three never tell", {10, 13, 17}, 3, 1 / 3., 1 / 6., 1},
        ShortCase{"four never tell, two-sided",
                  {10, 12, 13, 16},
                  6,
                  1 / 12.,
                  1 / 24.,
                  1},
        ShortCase{"five do", {9, 11, 12, 14, 15}, 10, 1 / 60., 1 / 120., 1},
        ShortCase{"six, up and down",
                  {15, 12, 16, 11, 14, 10},
                  -7,
                  49 / 180.,
                  671 / 720.,
                  49 / 360.},
        ShortCase{"eight, falling",
                  {18, 17, 15, 14, 12, 10, 8, 7},
                  -28,
                  1 / 20160.,
                  1,
                  1 / 40320.},
        ShortCase{"ties, falling: 2520 different orders",
                  {16, 16, 15, 15, 14, 14, 12, 12},
                  -24,
                  1 / 1260.,
                  1,
                  1 / 2520.},
        ShortCase{"ties, rising", {12, 12, 13, 13, 15}, 8, 1 / 15., 1 / 30., 1},
        ShortCase{"all the same", {14, 14, 14, 14, 14, 14}, 0, 1, 1, 1}));

// S over every order of the values, one by one.
struct Counted {
  double two_sided = 0;
  double upper = 0;
  double lower = 0;
  double variance = 0;
};

Counted CountOrders(std::vector<TimedValue> series, int observed) {
  std::vector<size_t> order(series.size());
  std::iota(order.begin(), order.end(), 0);
  const std::vector<TimedValue> values = series;
  Counted counted;
  double orders = 0;
  do {
    for (size_t i = 0; i < order.size(); ++i) {
      series[i].value = values[order[i]].value;
    }
    int s = 0;
    for (const TimedValue& a : series) {
      for (const TimedValue& b : series) {
        if (a.day < b.day && a.value < b.value) ++s;
        if (a.day < b.day && a.value > b.value) --s;
      }
    }
    orders += 1;
    counted.two_sided += std::abs(s) >= std::abs(observed) ? 1 : 0;
    counted.upper += s >= observed ? 1 : 0;
    counted.lower += s <= observed ? 1 : 0;
    counted.variance += s * s;
  } while (std::next_permutation(order.begin(), order.end()));
  return {counted.two_sided / orders, counted.upper / orders,
          counted.lower / orders, counted.variance / orders};
}

TEST(ExactTrend, AgreesWithCountingEveryOrder) {
  for (const auto& series :
       {On({0, 7, 7, 14, 21, 28}, {9, 12, 12, 12, 15, 9}),
        On({0, 0, 7, 7, 14, 14, 14}, {3, 3, 3, 8, 8, 1, 20}),
        On({5, 1, 1, 3, 2, 9, 9}, {27, 0, 4, 4, 0, 27, 27}),
        On({0.5, 0.5, 0.5, 0.75}, {2, 1, 3, 3}),
        On({0, 0, 0, 0, 7}, {5, 5, 5, 5, 9}), On({2, 1}, {4, 4.5}),
        On({6, 5, 4, 3, 2, 1, 0}, {6, 6, 5, 6, 4, 3, 3})}) {
    const MannKendall test = TestTrend(series);
    const Counted counted = CountOrders(series, test.s);
    EXPECT_NEAR(test.p_two_sided, counted.two_sided, 1e-12);
    EXPECT_NEAR(test.p_upper, counted.upper, 1e-12);
    EXPECT_NEAR(test.p_lower, counted.lower, 1e-12);
    EXPECT_NEAR(test.variance, counted.variance, 1e-9);
  }
}

TEST(ExactTrend, FourteenValuesAreExactAndFifteenNormal) {
  std::vector<double> values(14);
  std::iota(values.begin(), values.end(), 0);
  // The only order of 14! that rises all the way.
  const MannKendall exact = TestTrend(Every(7, values));
  EXPECT_TRUE(exact.exact);
  EXPECT_NEAR(exact.p_upper * 87178291200., 1, 1e-9);
  values.push_back(14);
  // z = 104 / sqrt(15 x 14 x 35 / 18), tail from SciPy's norm.
  const MannKendall normal = TestTrend(Every(7, values));
  EXPECT_FALSE(normal.exact);
  EXPECT_NEAR(normal.p_two_sided, 2.65157875e-7, 1e-15);
}

TEST(ExactTrend, ALongSeriesOfFewValuesDoesNotGoThroughEveryOrder) {
  // 301 x 53 states are few enough, but each holds 123 553 sums.
  std::vector<double> values(300, 0);
  values.insert(values.end(), 52, 1);
  EXPECT_FALSE(TestTrend(Every(1, values)).exact);
}

}  // namespace
}  // namespace turnstone::testing
