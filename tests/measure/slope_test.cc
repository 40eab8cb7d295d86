// Both lines through the same points, and Sen's interval.
#include "rules/measure/slope.h"

#include <gtest/gtest.h>

#include <string>

#include "tests/measure/timed_values.h"

namespace turnstone::testing {
namespace {

TEST(Slopes, OneOddValueMovesOnlyLeastSquares) {
  // Helsel & Hirsch 2002, USGS TWRI 4-A3, chapter 10: Theil slope 1, intercept
  // 0. Least squares by hand: 12/7, -10/7, error sqrt(1/28 x 100/7).
  const auto series = On({1, 2, 3, 4, 5, 6, 7}, {1, 2, 3, 4, 5, 16, 7});
  EXPECT_NEAR(TheilSen(series)->slope, 1, 1e-12);
  EXPECT_NEAR(TheilSen(series)->intercept, 0, 1e-12);
  const auto line = LeastSquares(series);
  EXPECT_NEAR(line->slope, 12 / 7., 1e-12);
  EXPECT_NEAR(line->intercept, -10 / 7., 1e-12);
  EXPECT_NEAR(*line->slope_error, .7142857, 5e-8);
}

struct LineCase {
  std::vector<TimedValue> series;
  double theil_sen;
  double theil_sen_intercept;
  double least_squares;
  double error;
};

TEST(Slopes, ShortSeries) {
  // SciPy 1.10 theilslopes and linregress; the shortest worked by hand too.
  for (const LineCase& c : std::vector<LineCase>{
           {Every(1, {10, 13, 17}), 3.5, 9.5, 3.5, .28868},
           {Every(1, {10, 12, 13, 16}), 2, 9.5, 1.9, .26458},
           {Every(1, {9, 11, 12, 14, 15}), 1.5, 9, 1.5, .1},
           {Every(1, {15, 12, 16, 11, 14, 10}), -.5, 14.25, -.68571, .53146},
           {Every(1, {18, 17, 15, 14, 12, 10, 8, 7}), -1.6667, 18.8333,
            -1.65476, .058725},
           {Every(1, {12, 12, 13, 13, 15}), .625, 11.75, .7, .19149},
           {On({0, 7, 14, 28, 35, 49, 63, 84}, {19, 18, 18, 15, 14, 11, 10, 9}),
            -1 / 7., 19, -.132142857, .01169457}}) {
    const auto median = TheilSen(c.series);
    ASSERT_TRUE(median);
    EXPECT_NEAR(median->slope, c.theil_sen, 5e-5);
    EXPECT_NEAR(median->intercept, c.theil_sen_intercept, 5e-5);
    const auto line = LeastSquares(c.series);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->slope, c.least_squares, 5e-6);
    EXPECT_NEAR(*line->slope_error, c.error, 5e-6);
  }
}

TEST(Slopes, NoneWithoutTwoDays) {
  // A line through one day has no slope. Fractions whose mean binary numbers
  // miss by a digit are one day too.
  EXPECT_FALSE(TheilSen({}));
  EXPECT_FALSE(LeastSquares({}));
  for (const double day : {0.0, 0.1, 14.3, 20781.4}) {
    std::vector<TimedValue> series;
    for (int value = 1; value <= 12; ++value) {
      series.push_back({day, static_cast<double>(value)});
      EXPECT_FALSE(TheilSen(series)) << day << " " << value;
      EXPECT_FALSE(LeastSquares(series)) << day << " " << value;
    }
  }
}

TEST(Slopes, TwoValuesHaveALineAndNoCertainty) {
  const auto series = On({0, 14}, {20, 13});
  EXPECT_DOUBLE_EQ(TheilSen(series)->slope, -.5);
  EXPECT_DOUBLE_EQ(TheilSen(series)->intercept, 20);
  const auto line = LeastSquares(series);
  EXPECT_DOUBLE_EQ(line->slope, -.5);
  EXPECT_DOUBLE_EQ(line->intercept, 20);
  EXPECT_DOUBLE_EQ(line->r, -1);
  EXPECT_FALSE(line->slope_error);
  EXPECT_FALSE(line->p_two_sided);
  EXPECT_FALSE(line->slope_95);
}

TEST(Slopes, LevelValuesHaveSlopeNothing) {
  // scipy.stats.linregress: r 0, error 0, p 1. A third of a point, and 0.1,
  // are values whose mean binary numbers miss by a digit.
  for (const double value : {14.0, 1 / 3., 0.1}) {
    const auto series = Every(7, {value, value, value, value, value, value});
    const auto median = TheilSen(series);
    EXPECT_EQ(median->slope, 0);
    EXPECT_EQ(median->intercept, value);
    EXPECT_EQ(median->slope_95.low, 0);
    EXPECT_EQ(median->slope_95.high, 0);
    const auto line = LeastSquares(series);
    EXPECT_EQ(line->slope, 0);
    EXPECT_DOUBLE_EQ(line->intercept, value);
    EXPECT_EQ(line->r, 0);
    EXPECT_EQ(line->slope_error, 0);
    EXPECT_EQ(line->p_two_sided, 1);
    EXPECT_EQ(line->slope_95->low, 0);
    EXPECT_EQ(line->slope_95->high, 0);
  }
}

// Sen's variance, (300 - 156 - 156) / 18, is below 0 where nearly all is tied;
// then no slope is left out. Slopes by hand: 0 three times, and -4/7.
TEST(Slopes, TiesBeyondTheApproximationLeaveNothingOut) {
  const auto line = TheilSen(On({0, 0, 0, 0, 7}, {5, 5, 5, 9, 5}));
  ASSERT_TRUE(line.has_value());
  EXPECT_DOUBLE_EQ(line->slope, 0);
  EXPECT_DOUBLE_EQ(line->slope_95.low, -4.0 / 7);
  EXPECT_DOUBLE_EQ(line->slope_95.high, 0);
}

TEST(Slopes, DaysMayCountFromAnywhereAndComeInAnyOrder) {
  // Algebra: moving the origin moves the intercept alone.
  const auto near = On({0.5, 1.25, 2, 30}, {3, 4, 4, 11});
  const auto far = On({20030, 20000.5, 20002, 20001.25}, {11, 3, 4, 4});
  EXPECT_NEAR(TheilSen(far)->slope, TheilSen(near)->slope, 1e-12);
  EXPECT_NEAR(TheilSen(far)->intercept,
              TheilSen(near)->intercept - 20000 * TheilSen(near)->slope, 1e-9);
  const auto close = LeastSquares(near);
  const auto distant = LeastSquares(far);
  EXPECT_NEAR(distant->slope, close->slope, 1e-12);
  EXPECT_NEAR(*distant->slope_error, *close->slope_error, 1e-9);
  EXPECT_NEAR(*distant->p_two_sided, *close->p_two_sided, 1e-9);
}

struct IntervalCase {
  std::string why;
  std::vector<TimedValue> series;
  double low;
  double high;
};

class SenInterval : public ::testing::TestWithParam<IntervalCase> {};

TEST_P(SenInterval, IsFromTheRanksOfTheSlopes) {
  const IntervalCase& c = GetParam();
  SCOPED_TRACE(c.why);
  const auto line = TheilSen(c.series);
  ASSERT_TRUE(line);
  EXPECT_NEAR(line->slope_95.low, c.low, 1e-12);
  EXPECT_NEAR(line->slope_95.high, c.high, 1e-12);
}

// Sen 1968, section 4, by hand where that is short; SciPy 1.10 theilslopes.
INSTANTIATE_TEST_SUITE_P(
    Published, SenInterval,
    ::testing::Values(
        IntervalCase{"variance 66/18, so ranks (3 -+ 3.8) / 2 reach beyond",
                     Every(1, {10, 13, 17}), 3, 4},
        IntervalCase{"variance 196/3, ranks (28 -+ 15.8) / 2: the 6th slope "
                     "and the one above the 22nd",
                     Every(1, {18, 17, 15, 14, 12, 10, 8, 7}), -2, -1.5},
        IntervalCase{"no ties", Every(7, {14, 13, 19, 20, 12, 18, 4, 10}),
                     -15 / 28., 2 / 7.},
        IntervalCase{"ties of values", Every(7, {12, 6, 7, 9, 6, 6, 6, 7}),
                     -1 / 7., 1 / 42.},
        IntervalCase{"ties of values, few of them",
                     Every(7, {12, 11, 14, 9, 17, 7, 7}), -1 / 3., 3 / 14.},
        IntervalCase{
            "ties of days",
            On({7, 14, 28, 42, 42, 42, 42}, {12, 14, 6, 15, 8, 17, 13}),
            -2 / 7., 9 / 14.}));

}  // namespace
}  // namespace turnstone::testing
