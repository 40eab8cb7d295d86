// Conditions on change and on the whole course. Numbers 37 to 44 are the worked
// cases of the clinical sources: reliable change of 6 points on the PHQ-9 and 4
// on the GAD-7, case from 10 and from 8 (English national programme, as quoted
// there); response a fall by half; remission below 5.
#include <gtest/gtest.h>

#include <string>
#include <utility>
#include <vector>

#include "tests/engine/condition_fixture.h"

namespace turnstone {
namespace {

class CourseConditionTest : public ConditionTest {
 protected:
  // One PHQ-9 a week, named "0", "1", ...; the last one is asked about.
  Truth AskAfter(const std::vector<int>& totals, const std::string& text) {
    history_ = History();
    for (size_t i = 0; i < totals.size(); ++i) {
      Know(Phq9Total(std::to_string(i), Day(static_cast<int>(7 * i)),
                     totals[i]));
    }
    return Ask(text, std::to_string(totals.size() - 1));
  }
  void KnowGad7(const std::string& id, int day, int total) {
    v1::Event event = EventAt(id, Day(day));
    event.mutable_screening_result()->set_instrument("gad-7");
    event.mutable_screening_result()->set_reported_total(total);
    Know(event);
  }
  // Both measures at the start and a week on.
  void KnowBoth(std::pair<int, int> phq, std::pair<int, int> gad) {
    history_ = History();
    KnowGad7("gad-0", 0, gad.first);
    KnowGad7("gad-1", 7, gad.second);
    Know(Phq9Total("phq-0", Day(0), phq.first));
    Know(Phq9Total("phq-1", Day(7), phq.second));
  }
};

std::string Change(const std::string& kind, const std::string& instrument,
                   const std::string& amount,
                   const std::string& than = "BASELINE") {
  return kind + " { instrument: \"" + instrument + "\" than: COMPARED_WITH_" +
         than + " " + amount + " }";
}
std::string AtLeast(int points) {
  return "at_least { value: " + std::to_string(points) + " }";
}
std::string AtMost(const std::string& instrument, int points) {
  return "score { instrument: \"" + instrument +
         "\" at_most { value: " + std::to_string(points) + " } }";
}
std::string Both(const std::string& a, const std::string& b) {
  return "all_of { condition { " + a + " } condition { " + b + " } }";
}
std::string Either(const std::string& a, const std::string& b) {
  return "any_of { condition { " + a + " } condition { " + b + " } }";
}
std::string None(const std::string& a, const std::string& b) {
  return "not { " + Either(a, b) + " }";
}

// One or both measures fall by a reliable change and neither rises by one.
std::string ReliableImprovement() {
  return Both(Either(Change("better_by", "phq-9", AtLeast(6)),
                     Change("better_by", "gad-7", AtLeast(4))),
              None(Change("worse_by", "phq-9", AtLeast(6)),
                   Change("worse_by", "gad-7", AtLeast(4))));
}
std::string ReliableDeterioration() {
  return Both(Either(Change("worse_by", "phq-9", AtLeast(6)),
                     Change("worse_by", "gad-7", AtLeast(4))),
              None(Change("better_by", "phq-9", AtLeast(6)),
                   Change("better_by", "gad-7", AtLeast(4))));
}
std::string Recovery() { return Both(AtMost("phq-9", 9), AtMost("gad-7", 7)); }

const char* const kHalf = "at_least_percent { value: 50 }";

TEST_F(CourseConditionTest, Case37ReliableButNeitherResponseNorRecovery) {
  EXPECT_EQ(AskAfter({16, 10}, Change("better_by", "phq-9", AtLeast(6))),
            v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({16, 10}, Change("better_by", "phq-9", kHalf)),
            v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({16, 10}, AtMost("phq-9", 9)), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({16, 10}, AtMost("phq-9", 4)), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, Case38ReliableRecovery) {
  KnowBoth({16, 9}, {12, 7});
  EXPECT_EQ(Ask(Both(Recovery(), ReliableImprovement()), "phq-1"),
            v1::TRUTH_TRUE);
}

TEST_F(CourseConditionTest, Case39OneMeasureWorseIsNoReliableImprovement) {
  KnowBoth({16, 9}, {7, 12});
  EXPECT_EQ(Ask(ReliableImprovement(), "phq-1"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(Recovery(), "phq-1"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(ReliableDeterioration(), "phq-1"), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, Case40RecoveryThatIsNotReliable) {
  KnowBoth({11, 9}, {9, 7});
  EXPECT_EQ(Ask(Recovery(), "phq-1"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(ReliableImprovement(), "phq-1"), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, Case41WhatHalfOfATotalIs) {
  // A baseline of 27 is in tests/measure.
  const std::vector<std::pair<int, int>> highest = {{15, 7}, {12, 6}, {20, 10}};
  const std::string half = Change("better_by", "phq-9", kHalf);
  for (const auto& [baseline, response] : highest) {
    EXPECT_EQ(AskAfter({baseline, response}, half), v1::TRUTH_TRUE);
    EXPECT_EQ(AskAfter({baseline, response + 1}, half), v1::TRUTH_FALSE);
  }
}

TEST_F(CourseConditionTest, Case42ReliableDeterioration) {
  KnowBoth({10, 16}, {7, 7});
  EXPECT_EQ(Ask(ReliableDeterioration(), "phq-1"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(ReliableImprovement(), "phq-1"), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, Cases43And44PublishedSplits) {
  const std::string ng222 =
      R"(score { instrument: "phq-9" at_least { value: 16 } })";
  EXPECT_EQ(AskAfter({15}, ng222), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({16}, ng222), v1::TRUTH_TRUE);
  const std::string week_4 =
      R"(score { instrument: "phq-9" at_least { value: 17 } })";
  EXPECT_EQ(AskAfter({16}, week_4), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({17}, week_4), v1::TRUTH_TRUE);
}

TEST_F(CourseConditionTest, ComparedWithTheBestOfAll) {
  const std::string worse = Change("worse_by", "phq-9", AtLeast(6), "BEST");
  EXPECT_EQ(AskAfter({16, 8, 12, 14}, worse), v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({16, 9, 12, 14}, worse), v1::TRUTH_FALSE);
  const std::string better = Change("better_by", "phq-9", AtLeast(2), "BEST");
  EXPECT_EQ(AskAfter({16, 8, 12, 6}, better), v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({16, 8, 12, 7}, better), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, TwoInARowNeedsBothTimes) {
  const std::string twice =
      Change("worse_by", "phq-9", AtLeast(6) + " in_a_row { value: 2 }");
  EXPECT_EQ(AskAfter({10, 16}, twice), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({10, 16, 15}, twice), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({10, 15, 16}, twice), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({10, 16, 17}, twice), v1::TRUTH_TRUE);
  const std::string low =
      R"(score { instrument: "phq-9" at_most { value: 4 } in_a_row { value: 2 } })";
  EXPECT_EQ(AskAfter({4}, low), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({4, 4}, low), v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({5, 4}, low), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({4, 5}, low), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, NothingEarlierIsNoChange) {
  for (const char* kind : {"worse_by", "better_by"}) {
    for (const char* than : {"BASELINE", "PREVIOUS", "BEST"}) {
      EXPECT_EQ(AskAfter({16}, Change(kind, "phq-9", AtLeast(1), than)),
                v1::TRUTH_FALSE);
    }
  }
}

TEST_F(CourseConditionTest, AFormDeclinedAsAWholeIsNoBaseline) {
  Know(Phq9Total("a", Day(0), 11));
  v1::Event declined = EventAt("declined", Day(1));
  declined.mutable_screening_result()->set_instrument("phq-9");
  v1::ItemAnswer& answer = *declined.mutable_screening_result()->add_answers();
  answer.set_question("44250-9");
  answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  Know(declined);
  Know(Enrolled("in", Day(2)));
  Know(Phq9Total("b", Day(9), 17));
  EXPECT_EQ(Ask(Change("worse_by", "phq-9", AtLeast(6)), "b"), v1::TRUTH_TRUE);
}

TEST_F(CourseConditionTest, MissingAnswersLeaveAChangeOpen) {
  Know(Phq9Total("a", Day(0), 10));
  // 13 to 16: 3 to 6 points worse.
  Know(Phq9("b", Day(7), {2, 2, 2, 2, 2, 2, 1, 0}));
  EXPECT_EQ(Ask(Change("worse_by", "phq-9", AtLeast(3)), "b"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(Change("worse_by", "phq-9", AtLeast(6)), "b"),
            v1::TRUTH_UNKNOWN);
  EXPECT_EQ(Ask(Change("worse_by", "phq-9", AtLeast(7)), "b"), v1::TRUTH_FALSE);
}

std::string OutcomeIs(const std::string& is) {
  return "outcome { instrument: \"phq-9\" is: COURSE_OUTCOME_" + is +
         " remission_at_most { value: 4 } response_percent { value: 50 }"
         " reliable_change { value: 6 } }";
}

TEST_F(CourseConditionTest, OutcomeIsOneOfFive) {
  const std::vector<std::pair<std::vector<int>, std::string>> rows = {
      {{12, 18}, "WORSE"},   {{12, 4}, "REMISSION"}, {{12, 6}, "RESPONSE"},
      {{18, 12}, "PARTIAL"}, {{12, 8}, "NO_CHANGE"}, {{12, 17}, "NO_CHANGE"},
      {{16, 10}, "PARTIAL"}};
  for (const auto& [totals, expected] : rows) {
    for (const char* is :
         {"WORSE", "REMISSION", "RESPONSE", "PARTIAL", "NO_CHANGE"}) {
      EXPECT_EQ(AskAfter(totals, OutcomeIs(is)),
                is == expected ? v1::TRUTH_TRUE : v1::TRUTH_FALSE)
          << is << " of " << totals[0] << ", " << totals[1];
    }
  }
  EXPECT_EQ(AskAfter({12}, OutcomeIs("NO_CHANGE")), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, OutcomeIsUnknownWhileMissingAnswersDecide) {
  Know(Phq9Total("a", Day(0), 12));
  // 4 to 7: remission, response or no reliable change.
  Know(Phq9("b", Day(7), {1, 1, 1, 1, 0, 0, 0, 0}));
  EXPECT_EQ(Ask(OutcomeIs("REMISSION"), "b"), v1::TRUTH_UNKNOWN);
  EXPECT_EQ(Ask(OutcomeIs("WORSE"), "b"), v1::TRUTH_FALSE);
}

std::string Trend(const std::string& direction, int per_thousand = 50) {
  return "trend { instrument: \"phq-9\" direction: TREND_DIRECTION_" +
         direction + " p_at_most { value: " + std::to_string(per_thousand) +
         " } }";
}

// Exact two-sided p, clinical sources, cases 54 to 59: 1/3, 1/12, 1/60, 49/180,
// 1/20160.
TEST_F(CourseConditionTest, TrendNeedsFiveTotals) {
  EXPECT_EQ(AskAfter({10, 12, 13, 16}, Trend("WORSENING")), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({10, 12, 13, 16}, Trend("WORSENING", 84)), v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({9, 11, 12, 14, 15}, Trend("WORSENING")), v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({9, 11, 12, 14, 15}, Trend("WORSENING", 16)),
            v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({9, 11, 12, 14, 15}, Trend("IMPROVING")), v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({15, 12, 16, 11, 14, 10}, Trend("IMPROVING")),
            v1::TRUTH_FALSE);
  EXPECT_EQ(AskAfter({18, 17, 15, 14, 12, 10, 8, 7}, Trend("IMPROVING")),
            v1::TRUTH_TRUE);
  EXPECT_EQ(AskAfter({14, 14, 14, 14, 14, 14}, Trend("WORSENING")),
            v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest, TrendBeginsAtTheBaseline) {
  for (int i = 0; i < 7; ++i) {
    Know(Phq9Total(std::to_string(i), Day(7 * i), 8 + i));
  }
  EXPECT_EQ(Ask(Trend("WORSENING"), "6"), v1::TRUTH_TRUE);
  // From the fourth form on there are only four.
  Know(Enrolled("in", Day(22)));
  EXPECT_EQ(Ask(Trend("WORSENING"), "6"), v1::TRUTH_FALSE);
}

TEST_F(CourseConditionTest,
       TrendWithMissingAnswersIsToldWhereEveryTotalAgrees) {
  for (int i = 0; i < 4; ++i) {
    Know(Phq9Total(std::to_string(i), Day(7 * i), 5 + 2 * i));
  }
  // 12 to 15, all above 11.
  Know(Phq9("above", Day(28), {2, 2, 2, 2, 2, 2, 0, 0}));
  EXPECT_EQ(Ask(Trend("WORSENING"), "above"), v1::TRUTH_TRUE);
  history_ = History();
  for (int i = 0; i < 4; ++i) {
    Know(Phq9Total(std::to_string(i), Day(7 * i), 5 + 2 * i));
  }
  // 9 to 12: above 11 or not.
  Know(Phq9("astride", Day(28), {2, 2, 2, 2, 1, 0, 0, 0}));
  EXPECT_EQ(Ask(Trend("WORSENING"), "astride"), v1::TRUTH_UNKNOWN);
}

TEST_F(CourseConditionTest, TrendIsUnknownWhereTooMuchIsMissing) {
  // Each of three forms may be any of 28 totals.
  for (int i = 0; i < 5; ++i) {
    const std::string id = std::to_string(i);
    if (i < 2) {
      Know(Phq9Total(id, Day(7 * i), 5 + i));
      continue;
    }
    v1::Event empty = EventAt(id, Day(7 * i));
    v1::ScreeningResult& form = *empty.mutable_screening_result();
    form.set_instrument("phq-9");
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question("44260-8");
    answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    Know(empty);
  }
  EXPECT_EQ(Ask(Trend("WORSENING"), "4"), v1::TRUTH_UNKNOWN);
  // Four totals cannot be so rare, whatever is missing.
  EXPECT_EQ(Ask(Trend("WORSENING"), "3"), v1::TRUTH_FALSE);
}

}  // namespace
}  // namespace turnstone
