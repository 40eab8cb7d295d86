// A total the sender computed, kept beside the one from the answers. What it
// does is our own rule (score.h); ranges are the instruments'.
#include <gtest/gtest.h>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

Score Reported(int total, const std::vector<int>& ticks) {
  v1::ScreeningResult form = Fill(Phq9(), ticks);
  form.set_reported_total(total);
  return MustScore(LoadScale("phq-9"), form);
}

const std::vector<int>& NineOnes() {
  static const auto* const kTicks =
      new std::vector<int>{1, 1, 1, 1, 1, 1, 1, 1, 1};
  return *kTicks;
}

TEST(ReportedTotal, StandsWhereThereIsNoAnswer) {
  const Score score = Reported(14, {});
  EXPECT_EQ(score.total, (Interval{14, 14}));
  EXPECT_EQ(score.reported, 14);
  EXPECT_EQ(score.answered_items, 0);
  EXPECT_EQ(score.scored_items, 9);
  EXPECT_FALSE(score.disagrees);
}

TEST(ReportedTotal, StandsWhereOnlyAnUnscoredQuestionIsAnswered) {
  v1::ScreeningResult form;
  AddAnswer(form, "69722-7", "LA6574-3");
  form.set_reported_total(14);
  const Score score = MustScore(LoadScale("phq-9"), form);
  EXPECT_EQ(score.total, (Interval{14, 14}));
  EXPECT_FALSE(score.disagrees);
}

TEST(ReportedTotal, AgreesWithAFullForm) {
  const Score score = Reported(9, NineOnes());
  EXPECT_EQ(score.total, (Interval{9, 9}));
  EXPECT_FALSE(score.disagrees);
}

TEST(ReportedTotal, WidensWhatItContradicts) {
  const Score higher = Reported(12, NineOnes());
  EXPECT_TRUE(higher.disagrees);
  EXPECT_EQ(higher.total, (Interval{9, 12}));
  const Score lower = Reported(4, NineOnes());
  EXPECT_TRUE(lower.disagrees);
  EXPECT_EQ(lower.total, (Interval{4, 9}));
  EXPECT_EQ(lower.reported, 4);
}

TEST(ReportedTotal, NeitherNarrowsNorContradictsAnIncompleteForm) {
  // Eight ones and a blank: 8 to 11.
  const std::vector<int> ticks = {1, 1, 1, 1, 1, 1, 1, 1, kBlank};
  for (const int total : {8, 10, 11}) {
    const Score score = Reported(total, ticks);
    EXPECT_FALSE(score.disagrees) << total;
    EXPECT_EQ(score.total, (Interval{8, 11})) << total;
  }
  EXPECT_TRUE(Reported(7, ticks).disagrees);
  EXPECT_TRUE(Reported(12, ticks).disagrees);
}

TEST(ReportedTotal, MayBeAnyTotalOfTheInstrumentAndNoOther) {
  struct Edge {
    std::string id;
    int total;
    bool possible;
  };
  const std::vector<Edge> edges = {
      {"phq-9", -1, false},
      {"phq-9", 0, true},
      {"phq-9", 27, true},
      {"phq-9", 28, false},
      {"ucla-3", 2, false},
      {"ucla-3", 3, true},
      {"ucla-3", 9, true},
      {"ucla-3", 10, false},
      {"gds-15", 15, true},
      {"gds-15", 16, false},
      // Topp 2015: raw 0 to 25 times 4, so 50 cannot occur.
      {"who-5", 0, true},
      {"who-5", 48, true},
      {"who-5", 50, false},
      {"who-5", 52, true},
      {"who-5", 100, true},
      {"who-5", 104, false}};
  for (const Edge& edge : edges) {
    v1::ScreeningResult form;
    form.set_reported_total(edge.total);
    EXPECT_EQ(ScoreForm(LoadScale(edge.id), form).ok(), edge.possible)
        << edge.id << " " << edge.total;
  }
}

}  // namespace
}  // namespace turnstone::testing
