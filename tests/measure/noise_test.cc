// How often measurement error alone sets off a rule on change.
#include "rules/measure/noise.h"

#include <gtest/gtest.h>

namespace turnstone {
namespace {

using Kind = ChangeAlarm::Kind;

struct Row {
  double sem;
  double points;
  // Percent at 1, 3, 5 and 7 follow-ups.
  double percent[4];
};

// Clinical sources, table "False-alarm budget": normal errors, no rounding,
// computed outside with SciPy. SEM 2.44 and 2.02: PHQ-9, test-retest and alpha;
// 1.33 and 1.94: GAD-7, alpha and test-retest.
constexpr Row kTable[] = {
    {2.44, 5, {7.4, 16.7, 22.9, 27.5}}, {2.44, 6, {4.1, 9.9, 14.1, 17.3}},
    {2.02, 5, {4.0, 9.7, 13.8, 17.0}},  {2.02, 6, {1.8, 4.6, 6.8, 8.6}},
    {1.33, 4, {1.7, 4.3, 6.4, 8.1}},    {1.94, 4, {7.2, 16.5, 22.6, 27.2}}};

TEST(Noise, BeyondBaselineIsThePublishedTable) {
  for (const Row& row : kTable) {
    int follow_ups = 1;
    for (const double percent : row.percent) {
      const Chance chance = ChanceOfFalseAlarm(
          {Kind::kThanBaseline, row.points, 1, 0}, row.sem, follow_ups);
      // The table is rounded to a tenth; SEM to a hundredth moves the last
      // digit of some of it.
      EXPECT_NEAR(100 * chance.share, percent, 0.1)
          << row.sem << " " << row.points << " " << follow_ups;
      EXPECT_FALSE(chance.error.has_value());
      follow_ups += 2;
    }
  }
}

// Clinical sources, same section: 3.4 % and 7.0 % at seven follow-ups, from
// 400,000 simulated courses of their own. Two such simulations differ by at
// most some four of their standard errors.
TEST(Noise, ConfirmedExcessIsThePublishedShare) {
  const Chance six =
      ChanceOfFalseAlarm({Kind::kThanBaseline, 6, 2, 0}, 2.44, 7);
  EXPECT_NEAR(100 * six.share, 3.4, 0.2);
  const Chance five =
      ChanceOfFalseAlarm({Kind::kThanBaseline, 5, 2, 0}, 2.44, 7);
  EXPECT_NEAR(100 * five.share, 7.0, 0.25);
  ASSERT_TRUE(five.error.has_value());
  EXPECT_NEAR(*five.error, 0.0004, 0.0001);
}

// One difference of two totals: 1 - Phi(6 / (2.44 sqrt 2)) = 4.1 % (table, one
// follow-up), whatever it is compared with.
TEST(Noise, AtOneFollowUpEveryComparisonIsTheSame) {
  for (const Kind kind : {Kind::kThanPrevious, Kind::kThanBest}) {
    const Chance chance = ChanceOfFalseAlarm({kind, 6, 1, 0}, 2.44, 1);
    EXPECT_NEAR(100 * chance.share, 4.1, 0.15);
    EXPECT_TRUE(chance.error.has_value());
  }
}

// The best of many lies further from the latest than the one before does.
TEST(Noise, ComparingWithTheBestAlarmsMostOften) {
  const auto share = [](Kind kind) {
    return ChanceOfFalseAlarm({kind, 6, 1, 0}, 2.44, 7).share;
  };
  EXPECT_GT(share(Kind::kThanBest), share(Kind::kThanBaseline));
  EXPECT_GT(share(Kind::kThanBest), share(Kind::kThanPrevious));
}

// Orders without two rises in a row: 1, 2, 5, 17, 70, 349 of n! (OEIS A049774).
TEST(Noise, RisesInARowAreCountedOverAllOrders) {
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm({Kind::kRises, 0, 2, 0}, 1, 1).share, 0);
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm({Kind::kRises, 0, 2, 0}, 1, 2).share,
                   1 - 5.0 / 6);
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm({Kind::kRises, 0, 2, 0}, 1, 3).share,
                   1 - 17.0 / 24);
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm({Kind::kRises, 0, 2, 0}, 1, 5).share,
                   1 - 349.0 / 720);
}

// Beyond eight totals by simulation; it joins on to the exact share.
TEST(Noise, SimulationTakesOverWhereOrdersAreTooMany) {
  const ChangeAlarm rises{Kind::kRises, 0, 4, 0};
  const double exact = ChanceOfFalseAlarm(rises, 1, 7).share;
  const Chance next = ChanceOfFalseAlarm(rises, 1, 8);
  ASSERT_TRUE(next.error.has_value());
  EXPECT_GT(next.share, exact);
  EXPECT_LT(next.share, 1.5 * exact);
}

// A limit of 1 leaves the sign of S alone: half of all pairs rise.
TEST(Noise, TrendWithoutALimitIsAnyRise) {
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm({Kind::kTrend, 0, 1, 1}, 1, 1).share,
                   0.5);
}

// With four totals or fewer no two-sided p below .05 exists; with five only one
// order of 120 rises throughout, and the next rarest S of 8 has p .083 (table
// of exact probabilities, Gilbert 1987).
TEST(Noise, TrendCannotAlarmBeforeTheFifthTotal) {
  const ChangeAlarm trend{Kind::kTrend, 0, 1, 0.05};
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm(trend, 1, 3).share, 0);
  EXPECT_DOUBLE_EQ(ChanceOfFalseAlarm(trend, 1, 4).share, 1.0 / 120);
}

}  // namespace
}  // namespace turnstone
