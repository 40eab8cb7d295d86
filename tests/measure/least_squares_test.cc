// The line of least squares: published data and certified values.
#include <gtest/gtest.h>

#include "rules/measure/slope.h"
#include "tests/measure/timed_values.h"

namespace turnstone::testing {
namespace {

TEST(LeastSquares, NistNorris) {
  // NIST Statistical Reference Datasets, Norris: certified values, 36 points.
  const auto line = LeastSquares(
      On({0.2,   337.4, 118.2, 884.6, 10.1,  226.5, 666.3, 996.3, 448.6,
          777.0, 558.2, 0.4,   0.6,   775.5, 666.9, 338.0, 447.5, 11.6,
          556.0, 228.1, 995.8, 887.6, 120.2, 0.3,   0.3,   556.8, 339.1,
          887.2, 999.0, 779.0, 11.1,  118.3, 229.2, 669.1, 448.9, 0.5},
         {0.1,   338.8, 118.1, 888.0, 9.2,   228.1, 668.5, 998.5, 449.1,
          778.9, 559.2, 0.3,   0.1,   778.1, 668.8, 339.3, 448.9, 10.8,
          557.7, 228.3, 998.0, 888.8, 119.6, 0.3,   0.6,   557.6, 339.3,
          888.0, 998.5, 778.9, 10.2,  117.6, 228.9, 668.4, 449.2, 0.2}));
  ASSERT_TRUE(line);
  EXPECT_NEAR(line->slope, 1.00211681802045, 1e-12);
  EXPECT_NEAR(line->intercept, -0.262323073774029, 1e-11);
  EXPECT_NEAR(*line->slope_error, 0.000429796848199937, 1e-14);
  EXPECT_NEAR(line->r * line->r, 0.999993745883712, 1e-13);
}

TEST(LeastSquares, AnscombeQuartet) {
  // Anscombe 1973, Am Stat 27:17: four sets, one line. Set I to six digits.
  const std::vector<double> x = {10, 8, 13, 9, 11, 14, 6, 4, 12, 7, 5};
  const auto first = LeastSquares(On(
      x, {8.04, 6.95, 7.58, 8.81, 8.33, 9.96, 7.24, 4.26, 10.84, 4.82, 5.68}));
  ASSERT_TRUE(first);
  EXPECT_NEAR(first->slope, .500091, 5e-7);
  EXPECT_NEAR(first->intercept, 3.000091, 5e-7);
  EXPECT_NEAR(*first->slope_error, .117906, 5e-7);
  EXPECT_NEAR(first->r * first->r, .666542, 5e-7);
  for (const auto& series : {On(x, {9.14, 8.14, 8.74, 8.77, 9.26, 8.10, 6.13,
                                    3.10, 9.13, 7.26, 4.74}),
                             On(x, {7.46, 6.77, 12.74, 7.11, 7.81, 8.84, 6.08,
                                    5.39, 8.15, 6.42, 5.73}),
                             On({8, 8, 8, 8, 8, 8, 8, 19, 8, 8, 8},
                                {6.58, 5.76, 7.71, 8.84, 8.47, 7.04, 5.25,
                                 12.50, 5.56, 7.91, 6.89})}) {
    const auto line = LeastSquares(series);
    ASSERT_TRUE(line);
    EXPECT_NEAR(line->slope, .500, 5e-4);
    EXPECT_NEAR(line->intercept, 3.00, 5e-3);
    EXPECT_NEAR(*line->slope_error, .118, 5e-4);
  }
}

TEST(LeastSquares, CertaintyOfAShortSeries) {
  // Case 10, 12, 13, 16 by hand: t = 1.9 / .26458 = 7.18 with 2 degrees of
  // freedom, p .0188; half the interval is 4.3027 (Student's table) x .26458.
  const auto line = LeastSquares(Every(1, {10, 12, 13, 16}));
  EXPECT_NEAR(*line->p_two_sided, .0188, 5e-5);
  EXPECT_NEAR(line->slope_95->low, 1.9 - 1.13841, 5e-5);
  EXPECT_NEAR(line->slope_95->high, 1.9 + 1.13841, 5e-5);
  EXPECT_NEAR(line->intercept, 9.9, 1e-12);
}

TEST(LeastSquares, RoundingGivesLevelValuesNoSlope) {
  // Seven times 1/7 is not quite 1, which uneven days would turn into a slope
  // of -7e-33, with a p of its own.
  const auto line =
      LeastSquares(On({0, 1, 2, 3, 4, 5, 9}, {1, 1, 1, 1, 1, 1, 1}));
  EXPECT_EQ(line->slope, 0);
  EXPECT_EQ(line->slope_error, 0);
  EXPECT_EQ(line->p_two_sided, 1);
}

TEST(LeastSquares, AStraightLineLeavesNoDoubt) {
  // The limit as the error goes to 0.
  for (const double slope : {2.0, -0.1, 1 / 3.}) {
    const auto line = LeastSquares(Every(
        7, {5, 5 + 7 * slope, 5 + 14 * slope, 5 + 21 * slope, 5 + 28 * slope}));
    EXPECT_NEAR(line->slope, slope, 1e-12);
    EXPECT_NEAR(line->intercept, 5, 1e-12);
    EXPECT_NEAR(line->r, slope > 0 ? 1 : -1, 1e-12);
    EXPECT_NEAR(*line->slope_error, 0, 1e-12);
    EXPECT_NEAR(*line->p_two_sided, 0, 1e-12);
    EXPECT_NEAR(line->slope_95->low, slope, 1e-12);
    EXPECT_NEAR(line->slope_95->high, slope, 1e-12);
  }
}

TEST(LeastSquares, NoErrorAtAllHasProbability0) {
  const auto line = LeastSquares(Every(1, {0, 1, 2}));
  EXPECT_EQ(line->slope_error, 0);
  EXPECT_EQ(line->p_two_sided, 0);
}

TEST(LeastSquares, RoundingDoesNotCorrelateBeyond1) {
  // On these days it would be 1.0000000000000002.
  EXPECT_EQ(LeastSquares(
                On({0, 8.5, 12, 11.5, 19, 18.5}, {5, 13.5, 17, 16.5, 24, 23.5}))
                ->r,
            1);
}

}  // namespace
}  // namespace turnstone::testing
