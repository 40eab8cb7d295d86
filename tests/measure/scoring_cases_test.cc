// Worked cases of scoring, each with where its expected total comes from.
// "key": the published scoring key of the instrument, worked by hand.
#include <gmock/gmock.h>
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include <set>

#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

struct ScoringCase {
  std::string source;
  Questionnaire form;
  std::vector<int> ticks;
  int total;
  std::string band;
};

std::vector<int> All(int tick, size_t count) {
  return std::vector<int>(count, tick);
}

std::vector<ScoringCase> PhqAndGadCases() {
  return {
      {"US Core PHQ-9 example responses (total 12)",
       Phq9(),
       {2, 2, 2, 2, 1, 1, 2, 0, 0},
       12,
       "moderate"},
      {"MII IG PHQ-9 example response", Phq9(), All(3, 9), 27, "severe"},
      {"MII IG 2026.7 GAD-7 example response",
       Gad7(),
       {1, 1, 1, 2, 2, 0, 0},
       7,
       "mild"},
      {"PACIO GAD-7 sample", Gad7(), {1, 1, 1, 1, 0, 1, 2}, 7, "mild"},
      {"answers of the HL7 PHR IG, key",
       Gad7(),
       {0, 0, 1, 1, 0, 1, 0},
       3,
       "minimal"},
      // Either side of each boundary; bands of Kroenke 2001.
      {"key", Phq9(), {1, 1, 1, 1, 0, 0, 0, 0, 0}, 4, "minimal"},
      {"key", Phq9(), {1, 1, 1, 1, 1, 0, 0, 0, 0}, 5, "mild"},
      {"key", Phq9(), {1, 1, 1, 1, 1, 1, 1, 1, 1}, 9, "mild"},
      {"key", Phq9(), {2, 1, 1, 1, 1, 1, 1, 1, 1}, 10, "moderate"},
      {"key", Phq9(), {2, 2, 2, 2, 2, 1, 1, 1, 1}, 14, "moderate"},
      {"key", Phq9(), {2, 2, 2, 2, 2, 2, 1, 1, 1}, 15, "moderately severe"},
      {"key", Phq9(), {3, 2, 2, 2, 2, 2, 2, 2, 2}, 19, "moderately severe"},
      {"key", Phq9(), {3, 3, 2, 2, 2, 2, 2, 2, 2}, 20, "severe"},
      {"key; total below 10 though five symptoms count",
       Phq9(),
       {2, 0, 2, 2, 2, 0, 0, 0, 1},
       9,
       "mild"},
      {"key; neither core symptom",
       Phq9(),
       {0, 0, 3, 3, 3, 3, 3, 3, 0},
       18,
       "moderately severe"},
      {"key", Phq9(), {2, 1, 2, 1, 1, 1, 1, 0, 0}, 9, "mild"},
      {"key; lowest band with a positive self-harm item",
       Phq9(),
       {0, 0, 0, 0, 0, 0, 0, 0, 1},
       1,
       "minimal"},
      {"first two of the US Core PHQ-9 example, key",
       Phq2(),
       {2, 2},
       4,
       "at or above cut-off"},
      {"first eight of the US Core PHQ-9 example, key",
       Phq8(),
       {2, 2, 2, 2, 1, 1, 2, 0},
       12,
       "at or above cut-off"},
      {"first two of the PACIO GAD-7 sample, key",
       Gad2(),
       {1, 1},
       2,
       "below cut-off"},
  };
}

// Ticks that give a point on every question: yes (1), or no (0) on those given,
// numbered from 1.
std::vector<int> Depressive(size_t questions, const std::set<size_t>& no) {
  std::vector<int> ticks;
  for (size_t i = 1; i <= questions; ++i)
    ticks.push_back(no.contains(i) ? 0 : 1);
  return ticks;
}

std::vector<int> Opposite(std::vector<int> ticks) {
  for (int& tick : ticks) tick = 1 - tick;
  return ticks;
}

std::vector<ScoringCase> OtherCases() {
  // Sheikh, Yesavage 1986; Yesavage et al. 1982.
  const std::vector<int> short_form = Depressive(15, {1, 5, 7, 11, 13});
  const std::vector<int> long_form =
      Depressive(30, {1, 5, 7, 9, 15, 19, 21, 27, 29, 30});
  return {
      {"key: five questions count for no", Gds15(), All(0, 15), 5, "mild"},
      {"key: ten questions count for yes", Gds15(), All(1, 15), 10, "moderate"},
      {"key", Gds15(), short_form, 15, "severe"},
      {"key", Gds15(), Opposite(short_form), 0, "normal"},
      {"key: 10 count for no (split as in rdrr.io gds_compute)", Gds30(),
       All(0, 30), 10, "mild"},
      {"key: 20 count for yes (same)", Gds30(), All(1, 30), 20, "severe"},
      {"key", Gds30(), long_form, 30, "severe"},
      {"key", Gds30(), Opposite(long_form), 0, "normal"},
      {"key: raw 12 times 4; Topp 2015",
       Who5(),
       {3, 3, 2, 2, 2},
       48,
       "at or below the cut-off of 50"},
      {"key: raw 13 times 4; Topp 2015",
       Who5(),
       {3, 3, 3, 2, 2},
       52,
       "above both cut-offs"},
      {"key: seven items printed 3-2-1-0, Cox 1987", Epds(), All(0, 10), 21,
       "at or above the cut-off of 13"},
      {"key: three items printed 0-1-2-3, Cox 1987", Epds(), All(3, 10), 9,
       "below both cut-offs"},
      {"key: Hughes 2004, Steptoe 2013",
       Ucla3(),
       {1, 1, 1},
       6,
       "at or above cut-off"},
      {"key: Hughes 2004, Steptoe 2013",
       Ucla3(),
       {0, 0, 1},
       4,
       "below cut-off"},
      {"correct answers counted; PMC3930057",
       Sis(),
       {1, 1, 1, 1, 0, 0},
       4,
       "two errors or more"},
  };
}

class ScoringCases : public ::testing::TestWithParam<ScoringCase> {};

TEST_P(ScoringCases, GiveThePublishedTotal) {
  const ScoringCase& expected = GetParam();
  const Scale scale = LoadScale(expected.form.id);
  const Score score = MustScore(scale, Fill(expected.form, expected.ticks));
  EXPECT_EQ(score.total.low, expected.total) << expected.source;
  EXPECT_TRUE(score.total.IsPoint());
  EXPECT_EQ(scale.BandFor(score.total), expected.band) << expected.source;
  EXPECT_EQ(score.answered_items, score.scored_items);
  EXPECT_FALSE(score.prorated);
  EXPECT_FALSE(score.disagrees);
}

INSTANTIATE_TEST_SUITE_P(PhqAndGad, ScoringCases,
                         ::testing::ValuesIn(PhqAndGadCases()));
INSTANTIATE_TEST_SUITE_P(Others, ScoringCases,
                         ::testing::ValuesIn(OtherCases()));

TEST(Scoring, KeepsThePointsOfTheSelfHarmItem) {
  // US Core PHQ-9 example: item 9 "Not at all". Its points apart from the
  // total: key.
  const Scale scale = LoadScale("phq-9");
  const size_t item = scale.SelfHarmItem().value_or(0);
  EXPECT_EQ(scale.definition().item(static_cast<int>(item)).code(), "44260-8");
  EXPECT_EQ(
      MustScore(scale, Fill(Phq9(), {2, 2, 2, 2, 1, 1, 2, 0, 0})).points[item],
      0);
  EXPECT_EQ(
      MustScore(scale, Fill(Phq9(), {0, 0, 0, 0, 0, 0, 0, 0, 1})).points[item],
      1);
}

TEST(Scoring, ReversesTheSelfHarmItemOfTheEpds) {
  // Item 10 is printed from worst to best: Cox 1987.
  const Scale scale = LoadScale("epds");
  ASSERT_EQ(scale.SelfHarmItem(), 9U);
  EXPECT_EQ(scale.FindAnswer(9, "epds-position-1")->points, 3);
  EXPECT_EQ(scale.FindAnswer(9, "epds-position-4")->points, 0);
}

TEST(Scoring, CountsAuditC) {
  // US Core AUDIT-C example: 0. The last answer of each question counts 4:
  // Bush 1998.
  const Scale scale = LoadScale("audit-c");
  v1::ScreeningResult least;
  AddAnswer(least, "68518-0", "LA6270-8");
  AddAnswer(least, "68519-8", "LA15694-5");
  AddAnswer(least, "68520-6", "LA6270-8");
  EXPECT_EQ(MustScore(scale, least).total, (Interval{0, 0}));
  v1::ScreeningResult most;
  AddAnswer(most, "68518-0", "LA18929-2");
  AddAnswer(most, "68519-8", "LA18932-6");
  AddAnswer(most, "68520-6", "LA18934-2");
  EXPECT_EQ(MustScore(scale, most).total, (Interval{12, 12}));
}

TEST(Scoring, RefusesTheOtherAlcoholQuestion) {
  // 68517-2 is in a published AUDIT-C example, but is another question.
  EXPECT_FALSE(LoadScale("audit-c").FindItem("68517-2"));
}

TEST(Scoring, AcceptsTheAnswerOnlyGad7ItemTwoHas) {
  // LOINC's own GAD-7 questionnaire: LA18938-3 in place of LA6570-1, counts 2.
  for (const std::string id : {"gad-7", "gad-2"}) {
    const Scale scale = LoadScale(id);
    ASSERT_NE(scale.FindAnswer(1, "LA18938-3"), nullptr);
    EXPECT_EQ(scale.FindAnswer(1, "LA18938-3")->points, 2);
    EXPECT_EQ(scale.FindAnswer(1, "LA6570-1")->points, 2);
    EXPECT_EQ(scale.FindAnswer(0, "LA18938-3"), nullptr);
  }
}

TEST(Scoring, CountsAnAnswerByItsListNotByItsCodeAlone) {
  // loinc.org/LL5273-9: LA6568-5 "Not at all" counts 5 there, 0 in LL358-3.
  v1::Instrument instrument;
  ASSERT_TRUE(google::protobuf::TextFormat::ParseFromString(
      R"(id: "two-lists" name: "Two lists"
         item { code: "first" answers: "LL358-3" }
         item { code: "second" answers: "LL5273-9" }
         answer_list {
           id: "LL358-3" answer { code: "LA6568-5" score: 0 }
         }
         answer_list {
           id: "LL5273-9" answer { code: "LA6568-5" score: 5 }
         })",
      &instrument));
  const Scale scale(instrument);
  v1::ScreeningResult form;
  AddAnswer(form, "first", "LA6568-5");
  AddAnswer(form, "second", "LA6568-5");
  EXPECT_THAT(MustScore(scale, form).points, ::testing::ElementsAre(0, 5));
}

TEST(Scoring, RecordsDifficultyWithoutCountingIt) {
  // MII IG PHQ-9 example: 27, "extremely difficult".
  const Scale scale = LoadScale("phq-9");
  for (const std::string code : {"69722-7", "44256-6"}) {
    v1::ScreeningResult form = Fill(Phq9(), All(3, 9));
    AddAnswer(form, code, "LA6574-3");
    const Score score = MustScore(scale, form);
    EXPECT_EQ(score.total, (Interval{27, 27}));
    EXPECT_EQ(score.scored_items, 9);
    EXPECT_TRUE(score.answered[9]);
    EXPECT_FALSE(score.points[9]);
  }
}

TEST(Scoring, LeavesOutAnUnscoredQuestionEvenIfItsAnswersHavePoints) {
  // instrument.proto: unscored is recorded, but not part of the total.
  v1::Instrument instrument;
  ASSERT_TRUE(google::protobuf::TextFormat::ParseFromString(
      R"(id: "one-list" name: "One list"
         item { code: "scored" answers: "list" }
         item { code: "unscored" answers: "list" unscored: true }
         answer_list { id: "list" answer { code: "x" score: 3 } })",
      &instrument));
  const Scale scale(instrument);
  EXPECT_EQ(scale.Range(), (Interval{3, 3}));
  v1::ScreeningResult form;
  AddAnswer(form, "scored", "x");
  AddAnswer(form, "unscored", "x");
  EXPECT_THAT(MustScore(scale, form).points,
              ::testing::ElementsAre(3, std::nullopt));
}

TEST(Scoring, ListsDifficultyInOrderOfSeverity) {
  // LOINC LL359-1: "Extremely" (LA6574-3) comes after "Very" (LA6575-0), though
  // its code number is lower.
  for (const std::string id : {"phq-9", "gad-7"}) {
    const Scale scale = LoadScale(id);
    std::vector<std::string> codes;
    for (const v1::Answer& answer :
         scale.AnswersTo(scale.FindItem("69722-7").value_or(0))) {
      codes.push_back(answer.code());
    }
    EXPECT_THAT(codes, ::testing::ElementsAre("LA6572-7", "LA6573-5",
                                              "LA6575-0", "LA6574-3"));
  }
}

}  // namespace
}  // namespace turnstone::testing
