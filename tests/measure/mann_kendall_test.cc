// Whether values rise or fall more steadily than chance: published cases.
#include "rules/measure/mann_kendall.h"

#include <gtest/gtest.h>

#include <numeric>
#include <utility>

#include "tests/measure/timed_values.h"

namespace turnstone::testing {
namespace {

TEST(MannKendall, HelselAndHirschChapter8) {
  // USGS TWRI 4-A3, chapter 8: S 21, tau .47, exact p .072.
  const MannKendall test = TestTrend(
      On({2, 24, 99, 197, 377, 544, 632, 3452, 6587, 53170},
         {1.22, 2.20, 4.80, 1.28, 1.97, 1.46, 2.64, 2.34, 4.84, 2.96}));
  EXPECT_EQ(test.s, 21);
  EXPECT_NEAR(*test.tau_a, .467, 5e-4);
  EXPECT_NEAR(test.p_two_sided, .0726, 5e-5);
  EXPECT_TRUE(test.exact);
  EXPECT_NEAR(*test.z_corrected, 1.789, 5e-4);
}

TEST(MannKendall, HolyCrossSeries) {
  // Little, Montserrat seminar, Mann-Kendall by hand: 72 pairs up, 18 down, 1
  // tie; variance 998/3, p .00183 from the normal curve.
  const MannKendall test =
      TestTrend(Every(1, {12.9, 14.8, 13.2, 15.7, 13.8, 15.6, 12.9, 11.0, 17.3,
                          15.9, 19.0, 18.3, 20.1, 21.7}));
  EXPECT_EQ(test.s, 54);
  EXPECT_NEAR(test.variance, 998 / 3.0, 1e-9);
  EXPECT_NEAR(*test.z_corrected, 2.9058, 5e-5);
  EXPECT_NEAR(NormalTwoSided(*test.z_corrected) / 2, .00183, 5e-6);
}

TEST(MannKendall, ChlorideSeries) {
  // San Joaquin county landfill report: n 22, S 85, tau .368, z 2.397 without
  // continuity correction, p .0165; 2.369 with. Any order with that S will do:
  // 73 of 231 pairs fall.
  std::vector<double> values(22);
  std::iota(values.begin(), values.end(), 0);
  int falls = 0;
  for (size_t end = values.size() - 1; falls < 73; --end) {
    for (size_t i = 0; i < end && falls < 73; ++i, ++falls) {
      std::swap(values[i], values[i + 1]);
    }
  }
  const MannKendall test = TestTrend(Every(30, values));
  EXPECT_EQ(test.s, 85);
  EXPECT_NEAR(*test.tau_a, .368, 5e-4);
  EXPECT_NEAR(*test.z, 2.397, 5e-4);
  EXPECT_NEAR(NormalTwoSided(*test.z), .0165, 5e-5);
  EXPECT_NEAR(*test.z_corrected, 2.369, 5e-4);
  // 2^22 states are too many: the normal curve, tails from its tables.
  EXPECT_FALSE(test.exact);
  EXPECT_NEAR(test.p_two_sided, .0178543, 5e-8);
  EXPECT_NEAR(test.p_upper, .0089271, 5e-8);
  EXPECT_NEAR(test.p_lower, .9923463, 5e-8);
}

TEST(MannKendall, TauBOfTheSciPyManual) {
  // scipy.stats.kendalltau, example: tau -0.47140452, p 0.28274546
  // (asymptotic). Two pairs of days are the same, and one pair of values.
  const MannKendall test = TestTrend(On({12, 2, 1, 12, 2}, {1, 4, 7, 1, 0}));
  EXPECT_NEAR(*test.tau_b, -0.47140452, 5e-9);
  EXPECT_NEAR(NormalTwoSided(*test.z), 0.28274546, 5e-9);
}

TEST(MannKendall, NormalCurveBesideTheExactOne) {
  // Kendall 1975: variance n (n - 1) (2n + 5) / 18, less t (t - 1) (2t + 5) /
  // 18 for each tie, by hand.
  const MannKendall falling =
      TestTrend(Every(7, {18, 17, 15, 14, 12, 10, 8, 7}));
  EXPECT_NEAR(falling.variance, 196 / 3., 1e-12);
  EXPECT_NEAR(*falling.z_corrected, -3.3404, 5e-5);
  const MannKendall ties =
      TestTrend(Every(7, {16, 16, 15, 15, 14, 14, 12, 12}));
  EXPECT_NEAR(ties.variance, 184 / 3., 1e-12);
  EXPECT_NEAR(*ties.z_corrected, -2.9368, 5e-5);
  EXPECT_NEAR(NormalTwoSided(*ties.z_corrected), .00332, 5e-6);
  // scipy.stats.kendalltau, asymptotic.
  EXPECT_NEAR(NormalTwoSided(*ties.z), .00218, 5e-6);
  const MannKendall rising = TestTrend(Every(7, {12, 12, 13, 13, 15}));
  EXPECT_NEAR(*rising.z_corrected, 1.8278, 5e-5);
}

TEST(MannKendall, UnevenDays) {
  // 27 of 28 pairs fall, one is tied: the rarest order of 20160; variance by
  // hand.
  const MannKendall test = TestTrend(
      On({0, 7, 14, 28, 35, 49, 63, 84}, {19, 18, 18, 15, 14, 11, 10, 9}));
  EXPECT_EQ(test.s, -27);
  EXPECT_NEAR(test.variance, 193 / 3., 1e-12);
  EXPECT_NEAR(test.p_two_sided, 1 / 10080., 1e-12);
}

TEST(MannKendall, NothingToCompare) {
  // Kendall 1975: tau-b has the untied pairs below the line, so it has no
  // value without any; nor has z without variance.
  for (const auto& series :
       {On({}, {}), On({3}, {12}), On({3.1, 3.1, 3.1}, {9, 10, 11}),
        Every(7, {14, 14, 14, 14, 14, 14}),
        On({0, 0, 0, 1, 1, 5, 5}, {8, 8, 8, 8, 8, 8, 8})}) {
    const MannKendall test = TestTrend(series);
    EXPECT_EQ(test.s, 0);
    EXPECT_EQ(test.variance, 0);
    EXPECT_EQ(test.p_two_sided, 1);
    EXPECT_EQ(test.p_upper, 1);
    EXPECT_EQ(test.p_lower, 1);
    EXPECT_TRUE(test.exact);
    EXPECT_FALSE(test.tau_b);
    EXPECT_FALSE(test.z);
    EXPECT_FALSE(test.z_corrected);
    EXPECT_EQ(test.tau_a.has_value(), series.size() > 1);
  }
}

TEST(MannKendall, OrderOfArrivalDoesNotMatter) {
  const MannKendall sorted = TestTrend(On({0, 7, 14, 21}, {3, 9, 4, 8}));
  const MannKendall late = TestTrend(On({14, 0, 21, 7}, {4, 3, 8, 9}));
  EXPECT_EQ(late.s, sorted.s);
  EXPECT_DOUBLE_EQ(late.p_two_sided, sorted.p_two_sided);
}

}  // namespace
}  // namespace turnstone::testing
