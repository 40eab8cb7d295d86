// Which way totals go, and what is said of it.
#include "rules/measure/trend.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <numeric>
#include <string>

#include "tests/measure/timed_values.h"

namespace turnstone::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::Not;

TEST(MeasureTrend, RowsAreCountedUpToTheLatest) {
  // Counted by hand.
  struct RowCase {
    std::vector<double> values;
    int rises;
    int falls;
  };
  for (const RowCase& c : std::vector<RowCase>{{{}, 0, 0},
                                               {{12}, 0, 0},
                                               {{12, 13}, 1, 0},
                                               {{12, 11, 13, 16}, 2, 0},
                                               {{12, 13, 13}, 0, 0},
                                               {{9, 12, 11, 10, 4}, 0, 3},
                                               {{5, 6, 7, 6, 7}, 1, 0}}) {
    const Trend trend = MeasureTrend(Every(7, c.values));
    EXPECT_EQ(trend.count, static_cast<int>(c.values.size()));
    EXPECT_EQ(trend.rises_in_a_row, c.rises);
    EXPECT_EQ(trend.falls_in_a_row, c.falls);
  }
}

TEST(MeasureTrend, SortsByDayAndKeepsTheOrderWithinOne) {
  // By hand: day 0: 8; day 7: 9, then 12; day 14: 15.
  const Trend late = MeasureTrend(On({14, 7, 0, 7}, {15, 9, 8, 12}));
  EXPECT_EQ(late.rises_in_a_row, 3);
  const Trend swapped = MeasureTrend(On({14, 7, 0, 7}, {15, 12, 8, 9}));
  EXPECT_EQ(swapped.rises_in_a_row, 1);
  // Same-day values are no pair.
  EXPECT_EQ(late.mann_kendall.s, 5);
  EXPECT_EQ(swapped.mann_kendall.s, 5);
}

TEST(MeasureTrend, HasBothLinesAndTheTest) {
  // The eight falling values of slope_test and mann_kendall_test, weekly.
  const Trend trend = MeasureTrend(Every(7, {18, 17, 15, 14, 12, 10, 8, 7}));
  EXPECT_NEAR(trend.theil_sen->slope * 7, -1.6667, 5e-5);
  EXPECT_NEAR(trend.least_squares->slope * 7, -1.65476, 5e-6);
  EXPECT_EQ(trend.mann_kendall.s, -28);
}

std::string Words(const std::vector<double>& weekly) {
  return TrendInWords(MeasureTrend(Every(7, weekly)));
}

TEST(TrendInWords, FourTotalsOrFewerTellNothing) {
  // Kendall's table: no order of four is rarer than 1 in 20, two-sided.
  EXPECT_THAT(Words({10, 13}),
              HasSubstr("2 totals no trend can be told from chance"));
  EXPECT_THAT(Words({10, 12, 13, 16}),
              HasSubstr("4 totals no trend can be told from chance"));
  EXPECT_THAT(Words({9, 11, 12, 14, 15}),
              Not(HasSubstr("no trend can be told")));
}

TEST(TrendInWords, OneDayHasNoTrend) {
  EXPECT_THAT(TrendInWords(MeasureTrend(On({3, 3, 3}, {9, 10, 11}))),
              HasSubstr("one day"));
  // No totals, or one, are not "all from one day".
  EXPECT_THAT(Words({}), HasSubstr("No trend: no totals"));
  EXPECT_THAT(Words({12}), HasSubstr("No trend: one total"));
}

TEST(TrendInWords, SlopeAWeekWithItsIntervalAndChance) {
  // SciPy 1.10 theilslopes of the eight falling weekly values: -1.667, -2.0 to
  // -1.5; p 1/20160.
  EXPECT_EQ(Words({18, 17, 15, 14, 12, 10, 8, 7}),
            "Over 8 totals: -1.7 points a week (95 % interval -2.0 "
            "to -1.5); so steady a course comes about by chance less than once "
            "in 1000; it has fallen 7 times in a row.");
  // Slopes in order 1 1 1.3 1.5 1.5 1.5 1.5 1.7 2 2; Sen's ranks (10 -+ 8) / 2
  // reach from the 1st to the 10th, by hand; p 1/60.
  EXPECT_EQ(Words({9, 11, 12, 14, 15}),
            "Over 5 totals: +1.5 points a week (95 % interval +1.0 to "
            "+2.0); so steady a course comes about by chance 17 times in 1000; "
            "it has risen 4 times in a row.");
}

TEST(TrendInWords, LevelHasNoSignAndNoDirection) {
  // S 0: every order is as steady.
  EXPECT_EQ(Words({14, 14, 14, 14, 14, 14}),
            "Over 6 totals: 0.0 points a week (95 % interval 0.0 to 0.0); so "
            "steady a course comes about by chance more often than not.");
  // A slope that rounds to nothing has no sign either.
  EXPECT_THAT(TrendInWords(MeasureTrend(Every(7000, {16, 15, 14, 13, 12, 11}))),
              Not(HasSubstr("-0.0")));
}

TEST(TrendInWords, OnceInAThousandIsOnce) {
  // Two of 1680 orders (8! / 3! 2! 2!), 1.2 in 1000; of 720; of 5040.
  EXPECT_THAT(Words({16, 16, 16, 15, 15, 14, 14, 13}),
              HasSubstr("by chance once in 1000"));
  EXPECT_THAT(Words({16, 15, 14, 13, 12, 11}),
              HasSubstr("by chance 3 times in 1000;"));
  EXPECT_THAT(Words({16, 15, 14, 13, 12, 11, 10}),
              HasSubstr("by chance less than once in 1000;"));
}

TEST(TrendInWords, SaysWhenTheCurveIsNormal) {
  std::vector<double> values(15);
  std::iota(values.begin(), values.end(), 0);
  EXPECT_THAT(Words(values), HasSubstr("(normal approximation)"));
  values.pop_back();
  EXPECT_THAT(Words(values), Not(HasSubstr("normal")));
}

}  // namespace
}  // namespace turnstone::testing
