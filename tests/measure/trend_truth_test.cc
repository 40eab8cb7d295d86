// Trends of totals that missing answers leave open. Exact p: clinical sources,
// cases 55 and 56 (1/12 and 1/60); that unknown is what both answers are
// possible for: Kleene's strong logic.
#include "rules/measure/trend_truth.h"

#include <gtest/gtest.h>

#include <vector>

namespace turnstone {
namespace {

std::vector<TimedInterval> Weekly(const std::vector<Interval>& totals) {
  std::vector<TimedInterval> series;
  series.reserve(totals.size());
  for (const Interval total : totals) {
    series.push_back({7.0 * static_cast<double>(series.size()), total});
  }
  return series;
}
Interval Exactly(int total) { return {total, total}; }

TEST(GoesOneWay, CompleteTotals) {
  const auto four =
      Weekly({Exactly(10), Exactly(12), Exactly(13), Exactly(16)});
  EXPECT_EQ(GoesOneWay(four, true, 0.05), v1::TRUTH_FALSE);
  EXPECT_EQ(GoesOneWay(four, true, 1.0 / 12), v1::TRUTH_TRUE);
  const auto five =
      Weekly({Exactly(9), Exactly(11), Exactly(12), Exactly(14), Exactly(15)});
  EXPECT_EQ(GoesOneWay(five, true, 0.05), v1::TRUTH_TRUE);
  EXPECT_EQ(GoesOneWay(five, true, 0.016), v1::TRUTH_FALSE);
  EXPECT_EQ(GoesOneWay(five, false, 0.05), v1::TRUTH_FALSE);
  EXPECT_EQ(GoesOneWay(Weekly({Exactly(15), Exactly(14), Exactly(12),
                               Exactly(11), Exactly(9)}),
                       false, 0.05),
            v1::TRUTH_TRUE);
}

TEST(GoesOneWay, OpenTotals) {
  // Above all others whatever they are; below all others; or astride.
  EXPECT_EQ(
      GoesOneWay(Weekly({{1, 4}, Exactly(5), Exactly(6), Exactly(7), {8, 11}}),
                 true, 0.05),
      v1::TRUTH_TRUE);
  EXPECT_EQ(
      GoesOneWay(
          Weekly({Exactly(9), Exactly(11), Exactly(12), Exactly(14), {1, 5}}),
          true, 0.05),
      v1::TRUTH_FALSE);
  EXPECT_EQ(
      GoesOneWay(
          Weekly({Exactly(9), Exactly(11), Exactly(12), Exactly(14), {13, 16}}),
          true, 0.05),
      v1::TRUTH_UNKNOWN);
  // The other way round: the first set already rises, a later one does not.
  EXPECT_EQ(
      GoesOneWay(
          Weekly({{8, 12}, Exactly(11), Exactly(12), Exactly(14), Exactly(15)}),
          true, 0.05),
      v1::TRUTH_UNKNOWN);
}

TEST(GoesOneWay, TooManySetsAreUnknownUnlessNoOrderIsRareEnough) {
  const Interval any{0, 27};
  EXPECT_EQ(GoesOneWay(Weekly({any, any, any, any, any}), true, 0.05),
            v1::TRUTH_UNKNOWN);
  EXPECT_EQ(GoesOneWay(Weekly({any, any, any, any}), true, 0.05),
            v1::TRUTH_FALSE);
}

}  // namespace
}  // namespace turnstone
