// Change beyond measurement error: figures of the papers named beside them,
// worked by hand where a paper rounds.
#include "rules/measure/reliable_change.h"

#include <gtest/gtest.h>

#include <string>

namespace turnstone {
namespace {

// Jacobson & Truax 1991, worked example: one person from 32.5 to 47.5.
constexpr Reliability kWorkedExample = {7.5, 0.80};

TEST(ReliableChange, JacobsonAndTruaxExample) {
  EXPECT_NEAR(StandardErrorOfMeasurement(kWorkedExample), 3.3541, 5e-5);
  EXPECT_NEAR(StandardErrorOfDifference(kWorkedExample), 4.7434, 5e-5);
  EXPECT_NEAR(ReliableChangeIndex(32.5, 47.5, kWorkedExample), 3.1623, 5e-5);
  EXPECT_NEAR(ReliableChangeIndex(47.5, 32.5, kWorkedExample), -3.1623, 5e-5);
  EXPECT_NEAR(ReliableChangePoints(kWorkedExample), 9.297, 5e-4);
}

TEST(ReliableChange, CutBetweenTwoGroups) {
  // Jacobson & Truax 1991, cut c of the same example.
  EXPECT_DOUBLE_EQ(CutBetween({40, 7.5}, {60, 7.5}), 50);
  // PHQ-9 with and without major depression, Kroenke 2001: 17.1 and 6.1, 3.3
  // and 3.8; (3.8 x 17.1 + 6.1 x 3.3) / 9.9 by hand.
  EXPECT_NEAR(CutBetween({17.1, 6.1}, {3.3, 3.8}), 8.597, 5e-4);
}

struct PointsCase {
  std::string source;
  Reliability measure;
  double standard_error;
  double difference_error;
  double points;
  int whole;
};

class Points : public ::testing::TestWithParam<PointsCase> {};

TEST_P(Points, FollowFromSpreadAndReliability) {
  const PointsCase& c = GetParam();
  SCOPED_TRACE(c.source);
  EXPECT_NEAR(StandardErrorOfMeasurement(c.measure), c.standard_error, 5e-4);
  EXPECT_NEAR(StandardErrorOfDifference(c.measure), c.difference_error, 5e-4);
  EXPECT_NEAR(ReliableChangePoints(c.measure), c.points, 5e-4);
  EXPECT_EQ(SmallestReliableWholeChange(c.measure), c.whole);
}

// By hand from sd sqrt(1 - r), times sqrt 2, times 1.96, rounded up.
INSTANTIATE_TEST_SUITE_P(
    Published, Points,
    ::testing::Values(PointsCase{"PHQ-9, Kroenke 2001, repeated after 48 hours",
                                 {6.1, 0.84},
                                 2.440,
                                 3.4507,
                                 6.7633,
                                 7},
                      PointsCase{"PHQ-9, Kroenke 2001, Cronbach's alpha",
                                 {6.1, 0.89},
                                 2.0231,
                                 2.8611,
                                 5.6078,
                                 6},
                      PointsCase{"GAD-7, Spitzer 2006, Cronbach's alpha",
                                 {4.7, 0.92},
                                 1.3294,
                                 1.8800,
                                 3.6848,
                                 4},
                      PointsCase{"GAD-7, Spitzer 2006, repeated within a week",
                                 {4.7, 0.83},
                                 1.9378,
                                 2.7405,
                                 5.3715,
                                 6},
                      PointsCase{
                          "GAD-7, Bischoff 2020, published as 5.59 points",
                          {5.593, 0.87},
                          2.0166,
                          2.8519,
                          5.5897,
                          6}));

TEST(ReliableChange, WholePointsAreNotRoundedUpAnyFurther) {
  // By hand: 1.96 sqrt(2 (1 - r)) is 1.96 for r = .5, so sd = k / 1.96 gives
  // exactly k points, which binary fractions may put just above k.
  for (int points = 1; points <= 60; ++points) {
    EXPECT_EQ(SmallestReliableWholeChange({points / 1.96, 0.5}), points);
    EXPECT_EQ(SmallestReliableWholeChange({(points + 0.001) / 1.96, 0.5}),
              points + 1);
  }
}

TEST(ReliableChange, IsAtLeastOnePoint) {
  // No change at all is never reliable: safety inference, no source.
  EXPECT_EQ(SmallestReliableWholeChange({1e-12, 0.99}), 1);
}

}  // namespace
}  // namespace turnstone
