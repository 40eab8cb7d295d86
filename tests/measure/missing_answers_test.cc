// What is known of a total while answers are missing: an interval, and beside
// it the instrument's own estimate.
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

// All ways to tick `form`, blanks included or not.
std::vector<std::vector<int>> AllTicks(const Questionnaire& form, bool blanks) {
  std::vector<std::vector<int>> all = {{}};
  for (size_t i = 0; i < form.questions.size(); ++i) {
    std::vector<std::vector<int>> longer;
    for (const std::vector<int>& ticks : all) {
      for (int tick = blanks ? kBlank : 0;
           tick < static_cast<int>(form.answers.size()); ++tick) {
        longer.push_back(ticks);
        longer.back().push_back(tick);
      }
    }
    all = std::move(longer);
  }
  return all;
}

bool Completes(const std::vector<int>& complete,
               const std::vector<int>& partial) {
  return std::equal(
      complete.begin(), complete.end(), partial.begin(),
      [](int tick, int left) { return left == kBlank || left == tick; });
}

// By definition of the interval: the least and the greatest total among all
// ways to complete the form, no less and no more.
void ExpectTightIntervals(const Scale& scale, const Questionnaire& form) {
  const auto completed = AllTicks(form, false);
  for (const std::vector<int>& partial : AllTicks(form, true)) {
    if (std::count(partial.begin(), partial.end(), kBlank) ==
        static_cast<std::ptrdiff_t>(partial.size())) {
      continue;  // nothing was measured
    }
    Interval expected{100000, -1};
    for (const std::vector<int>& complete : completed) {
      if (!Completes(complete, partial)) continue;
      const int total = MustScore(scale, Fill(form, complete)).total.low;
      expected.low = std::min(expected.low, total);
      expected.high = std::max(expected.high, total);
    }
    EXPECT_EQ(MustScore(scale, Fill(form, partial)).total, expected)
        << ::testing::PrintToString(partial);
  }
}

TEST(MissingAnswers, IntervalHoldsEveryCompletionAndNothingElse) {
  ExpectTightIntervals(LoadScale("phq-2"), Phq2());
  ExpectTightIntervals(LoadScale("gad-2"), Gad2());
  ExpectTightIntervals(LoadScale("ucla-3"), Ucla3());
}

TEST(MissingAnswers, IntervalHoldsWithReversedItemsAndAMultiplier) {
  v1::Instrument instrument;
  ASSERT_TRUE(google::protobuf::TextFormat::ParseFromString(
      R"(id: "odd" name: "Odd" multiplier: 3
         item { code: "a" answers: "uneven" }
         item { code: "b" answers: "uneven" reversed: true }
         item { code: "c" answers: "uneven" }
         answer_list {
           id: "uneven"
           answer { code: "x" score: 1 }
           answer { code: "y" score: 2 }
           answer { code: "z" score: 5 }
         })",
      &instrument));
  const Scale scale(instrument);
  // Worked by hand: 3 x (1 + 1 + 1) to 3 x (5 + 5 + 5).
  EXPECT_EQ(scale.Range(), (Interval{9, 45}));
  ExpectTightIntervals(scale, {"odd", {"a", "b", "c"}, {"x", "y", "z"}});
}

TEST(MissingAnswers, AReasonForABlankIsNotAnAnswer) {
  // HL7 data-absent-reason: a reason is not an answer.
  const Scale scale = LoadScale("phq-9");
  v1::ScreeningResult form = Fill(Phq9(), {1, 1, 1, 1, 1, 1, 1, 1, kBlank});
  v1::ItemAnswer& declined = *form.add_answers();
  declined.set_question("44260-8");
  declined.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  const Score score = MustScore(scale, form);
  EXPECT_EQ(score.total, (Interval{8, 11}));
  EXPECT_FALSE(score.answered[8]);
  EXPECT_FALSE(score.points[8]);
}

TEST(MissingAnswers, AnUnscoredAnswerAloneLeavesTheWholeRange) {
  // Missing is never zero: our own rule.
  v1::ScreeningResult form;
  AddAnswer(form, "69722-7", "LA6572-7");
  const Score score = MustScore(LoadScale("phq-9"), form);
  EXPECT_EQ(score.total, (Interval{0, 27}));
  EXPECT_EQ(score.answered_items, 0);
  EXPECT_FALSE(score.prorated);
}

TEST(MissingAnswers, BandIsEmptyWhereTheIntervalCrossesABoundary) {
  const Scale scale = LoadScale("phq-9");
  EXPECT_EQ(scale.BandFor({10, 14}), "moderate");
  EXPECT_EQ(scale.BandFor({9, 10}), "");
  EXPECT_EQ(scale.BandFor({0, 27}), "");
}

struct Estimate {
  std::string source;
  Questionnaire form;
  std::vector<int> ticks;
  std::optional<int> expected;
};

class Estimates : public ::testing::TestWithParam<Estimate> {};

TEST_P(Estimates, FollowThePublishedRule) {
  const Estimate& expected = GetParam();
  const Scale scale = LoadScale(expected.form.id);
  const Score score = MustScore(scale, Fill(expected.form, expected.ticks));
  EXPECT_EQ(score.prorated, expected.expected) << expected.source;
  EXPECT_FALSE(score.total.IsPoint()) << "the estimate is not the total";
}

INSTANTIATE_TEST_SUITE_P(
    Phq, Estimates,
    ::testing::Values(Estimate{"CMS MDS 3.0: 17 x 9/8 = 19.125",
                               Phq9(),
                               {3, 3, 3, 3, 3, 2, 0, kBlank, 0},
                               19},
                      Estimate{"CMS MDS 3.0: 18 x 9/7 = 23.14",
                               Phq9(),
                               {3, 3, 3, 3, 3, 3, kBlank, kBlank, 0},
                               23},
                      Estimate{"CMS MDS 3.0: 10 x 9/8 = 11.25",
                               Phq9(),
                               {3, 3, 3, 1, 0, 0, 0, kBlank, 0},
                               11},
                      Estimate{"CMS MDS 3.0: 4 x 9/7 = 5.14",
                               Phq9(),
                               {3, 1, 0, 0, 0, kBlank, kBlank, 0, 0},
                               5},
                      Estimate{"instrument.proto, half up: 4 x 9/8 = 4.5",
                               Phq9(),
                               {3, 1, 0, 0, 0, 0, 0, kBlank, 0},
                               5},
                      Estimate{"CMS MDS 3.0: three missing, no score",
                               Phq9(),
                               {3, 3, 3, 3, 3, kBlank, kBlank, kBlank, 0},
                               std::nullopt},
                      Estimate{
                          "a self-harm item is never estimated: our own rule",
                          Phq9(),
                          {3, 3, 3, 3, 3, 2, 0, 0, kBlank},
                          std::nullopt},
                      Estimate{"as for the PHQ-9: 7 x 8/7 = 8",
                               Phq8(),
                               {1, 1, 1, 1, 1, 1, 1, kBlank},
                               8},
                      Estimate{"Kroenke 2010, two missing: 7 x 7/5 = 9.8",
                               Gad7(),
                               {2, 2, 1, 1, 1, kBlank, kBlank},
                               10},
                      Estimate{"no published rule for the PHQ-2",
                               Phq2(),
                               {1, kBlank},
                               std::nullopt}));

INSTANTIATE_TEST_SUITE_P(
    Gds, Estimates,
    ::testing::Values(
        // All ten questions that count for yes, then five that count for no.
        Estimate{"Stanford GDS page: 10 x 15/10 = 15",
                 Gds15(),
                 {kBlank, 1, 1, 1, kBlank, 1, kBlank, 1, 1, 1, kBlank, 1,
                  kBlank, 1, 1},
                 15},
        Estimate{
            "Stanford GDS page: 4 x 15/11 = 5.45",
            Gds15(),
            {1, 1, 1, 1, 1, 1, kBlank, 0, kBlank, 0, kBlank, 0, kBlank, 0, 0},
            5},
        Estimate{"Stanford GDS page: six missing, no score",
                 Gds15(),
                 {kBlank, kBlank, 1, 1, kBlank, 1, kBlank, 1, 1, 1, kBlank, 1,
                  kBlank, 1, 1},
                 std::nullopt}));

}  // namespace
}  // namespace turnstone::testing
