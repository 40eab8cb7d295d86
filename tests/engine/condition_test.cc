// Every kind of condition: true, false, unknown, and at the boundary. Expected
// truths follow from rule.proto's own words.
#include "rules/engine/condition.h"

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "tests/engine/condition_fixture.h"

namespace turnstone {
namespace {

constexpr auto kAttended = v1::VISIT_OUTCOME_KIND_ATTENDED;
constexpr auto kNoAnswer = v1::VISIT_OUTCOME_KIND_NO_ANSWER;
constexpr auto kRefused = v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR;
constexpr auto kNotice = v1::VISIT_OUTCOME_KIND_CANCELLED_WITH_NOTICE;
constexpr auto kByStaff = v1::VISIT_OUTCOME_KIND_CANCELLED_BY_STAFF;
constexpr auto kUnable = v1::VISIT_OUTCOME_KIND_UNABLE;

constexpr char kScore10To19[] =
    R"(score { instrument: "phq-9" at_least { value: 10 } at_most { value: 19 } })";

TEST_F(ConditionTest, ScoreAtItsBoundaries) {
  const std::vector<std::pair<int, Truth>> rows = {{9, v1::TRUTH_FALSE},
                                                   {10, v1::TRUTH_TRUE},
                                                   {19, v1::TRUTH_TRUE},
                                                   {20, v1::TRUTH_FALSE}};
  for (const auto& [total, expected] : rows) {
    history_ = History();
    Know(Phq9Total("e", start_, total));
    EXPECT_EQ(Ask(kScore10To19, "e"), expected) << total;
  }
}

TEST_F(ConditionTest, ScoreIsUnknownWhileMissingAnswersCouldCrossAnEnd) {
  // Two items missing: 8 to 14, 12 to 18, 14 to 20, 20 to 26.
  const std::vector<std::pair<std::vector<std::optional<int>>, Truth>> rows = {
      {{2, 2, 2, 2, 0, 0, 0}, v1::TRUTH_UNKNOWN},
      {{2, 2, 2, 2, 2, 2, 0}, v1::TRUTH_TRUE},
      {{2, 2, 2, 2, 2, 2, 2}, v1::TRUTH_UNKNOWN},
      {{3, 3, 3, 3, 3, 3, 2}, v1::TRUTH_FALSE}};
  for (const auto& [items, expected] : rows) {
    history_ = History();
    Know(Phq9("e", start_, items));
    EXPECT_EQ(Ask(kScore10To19, "e"), expected);
  }
}

TEST_F(ConditionTest, ScoreOfAnInstrumentNeverUsedIsUnknown) {
  Know(Phq9Total("e", start_, 12));
  EXPECT_EQ(Ask(R"(score { instrument: "gad-7" at_least { value: 1 } })", "e"),
            v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, ScoreLooksAtTheFormInQuestionNotAtALaterOne) {
  Know(Phq9Total("early", start_, 12));
  Know(Phq9Total("late", Day(7), 3));
  EXPECT_EQ(Ask(kScore10To19, "early", Day(30)), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, Item) {
  constexpr char kItem[] = "item { self_harm: true at_least { value: 1 } }";
  constexpr char kMissing[] = "item_unanswered { self_harm: true }";
  Know(Phq9Total("zero", Day(0), 5, 0));
  Know(Phq9Total("one", Day(1), 5, 1));
  Know(Phq9("none", Day(2), {1, 1, 1, 1, 1, 1, 1, 1}));
  EXPECT_EQ(Ask(kItem, "zero"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kItem, "one"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kItem, "none"), v1::TRUTH_UNKNOWN);
  EXPECT_EQ(Ask(kMissing, "zero"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kMissing, "none"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, ItemDeclinedCountsAsUnanswered) {
  v1::Event event = Phq9("e", start_, {0, 0, 0, 0, 0, 0, 0, 0});
  v1::ItemAnswer& answer = *event.mutable_screening_result()->add_answers();
  answer.set_question("44260-8");
  answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  Know(event);
  EXPECT_EQ(Ask("item_unanswered { self_harm: true }", "e"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, TotalDisagrees) {
  v1::Event agrees = Phq9Total("agrees", start_, 12);
  agrees.mutable_screening_result()->set_reported_total(12);
  v1::Event differs = Phq9Total("differs", start_, 12);
  differs.mutable_screening_result()->set_reported_total(21);
  Know(agrees);
  Know(differs);
  Know(Phq9Total("silent", start_, 12));
  EXPECT_EQ(Ask("total_disagrees {}", "agrees"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("total_disagrees {}", "differs"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("total_disagrees {}", "silent"), v1::TRUTH_FALSE);
  // Either may be right: 12 to 21 may or may not be above 19.
  EXPECT_EQ(
      Ask(R"(score { instrument: "phq-9" at_least { value: 20 } })", "differs"),
      v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, Willing) {
  v1::Event yes = Phq9Total("yes", start_, 12);
  yes.mutable_screening_result()->set_willing(true);
  v1::Event no = Phq9Total("no", start_, 12);
  no.mutable_screening_result()->set_willing(false);
  Know(yes);
  Know(no);
  Know(Phq9Total("silent", start_, 12));
  EXPECT_EQ(Ask("willing {}", "yes"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("willing {}", "no"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("willing {}", "silent"), v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, EnrolledUntilDischarged) {
  Know(Confidence("before", Day(0), 90));
  Know(Enrolled("in", Day(1)));
  Know(Confidence("during", Day(2), 90));
  Know(Discharged("out", Day(3)));
  Know(Confidence("after", Day(4), 90));
  Know(Enrolled("again", Day(5)));
  Know(Confidence("second", Day(6), 90));
  EXPECT_EQ(Ask("enrolled {}", "before"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("enrolled {}", "during"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("enrolled {}", "after"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("enrolled {}", "second"), v1::TRUTH_TRUE);
}

constexpr char kSixWorse[] =
    R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BASELINE
                  at_least { value: 6 } })";

TEST_F(ConditionTest, ReliableChangeFromBaseline) {
  // clinical worked case: PHQ 10 to 16 is reliable deterioration at 6 points
  // (Delgadillo 2014, Br J Clin Psychol 53:114).
  Know(Phq9Total("base", Day(0), 10));
  Know(Phq9Total("five", Day(7), 15));
  Know(Phq9Total("six", Day(14), 16));
  EXPECT_EQ(Ask(kSixWorse, "base"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kSixWorse, "five"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kSixWorse, "six"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, BaselineIsTheLastScreeningUpToEnrolment) {
  Know(Phq9Total("first", Day(0), 10));
  Know(Phq9Total("entry", Day(6), 14));
  Know(Enrolled("in", Day(7)));
  Know(Phq9Total("later", Day(14), 17));
  EXPECT_EQ(Ask(kSixWorse, "later"), v1::TRUTH_FALSE);  // 3 from 14
  Know(Phq9Total("worse", Day(21), 20));
  EXPECT_EQ(Ask(kSixWorse, "worse"), v1::TRUTH_TRUE);  // 6 from 14
}

TEST_F(ConditionTest, ChangeIsUnknownOverIncompleteForms) {
  Know(Phq9Total("base", Day(0), 10));
  Know(Phq9("part", Day(7), {3, 3, 3, 3, 3, 0, 0, 0}));  // 15 to 18
  EXPECT_EQ(Ask(kSixWorse, "part"), v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, WorseThanThePreviousOne) {
  constexpr char kThree[] =
      R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_PREVIOUS
                    at_least { value: 3 } })";
  Know(Phq9Total("a", Day(0), 10));
  Know(Phq9Total("b", Day(7), 12));
  Know(Phq9Total("c", Day(14), 15));
  EXPECT_EQ(Ask(kThree, "b"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kThree, "c"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, WorseInARow) {
  constexpr char kTwice[] =
      R"(worse_in_a_row { instrument: "phq-9" times { value: 2 } })";
  Know(Phq9Total("a", Day(0), 10));
  Know(Phq9Total("b", Day(7), 11));
  Know(Phq9Total("c", Day(14), 12));
  Know(Phq9Total("d", Day(21), 12));
  EXPECT_EQ(Ask(kTwice, "b"), v1::TRUTH_FALSE);  // too few
  EXPECT_EQ(Ask(kTwice, "c"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kTwice, "d"), v1::TRUTH_FALSE);  // equal is not worse
}

TEST_F(ConditionTest, HigherIsBetterTurnsChangeAround) {
  const auto who5 = [&](const std::string& id, absl::Time when, int total) {
    v1::Event event = EventAt(id, when);
    event.mutable_screening_result()->set_instrument("who-5");
    event.mutable_screening_result()->set_reported_total(total);
    return event;
  };
  constexpr char kTen[] =
      R"(worse_by { instrument: "who-5" than: COMPARED_WITH_PREVIOUS
                    at_least { value: 10 } })";
  Know(who5("a", Day(0), 60));
  Know(who5("lower", Day(7), 48));
  Know(who5("higher", Day(14), 60));
  EXPECT_EQ(Ask(kTen, "lower"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kTen, "higher"), v1::TRUTH_FALSE);
}

TEST_F(ConditionTest, MissedInARow) {
  struct Row {
    std::vector<v1::VisitOutcomeKind> outcomes;
    Truth expected;
  };
  const std::vector<Row> rows = {
      {{kNoAnswer}, v1::TRUTH_FALSE},
      {{kNoAnswer, kNoAnswer}, v1::TRUTH_TRUE},
      {{kNoAnswer, kRefused}, v1::TRUTH_TRUE},
      {{kNoAnswer, kAttended, kNoAnswer}, v1::TRUTH_FALSE},
      {{kNoAnswer, kByStaff, kNoAnswer}, v1::TRUTH_TRUE},
      {{kNoAnswer, kNotice, kUnable, kRefused}, v1::TRUTH_TRUE},
      {{kByStaff, kUnable, kNotice}, v1::TRUTH_FALSE}};
  for (size_t r = 0; r < rows.size(); ++r) {
    history_ = History();
    std::string last;
    for (size_t i = 0; i < rows[r].outcomes.size(); ++i) {
      last = "visit-" + std::to_string(i);
      Know(Outcome(last, Day(static_cast<int>(i)), last, rows[r].outcomes[i]));
    }
    EXPECT_EQ(Ask("missed_in_a_row { at_least { value: 2 } }", last),
              rows[r].expected)
        << "row " << r;
  }
}

TEST_F(ConditionTest, TheSameVisitReportedTwiceIsMissedOnce) {
  Know(Outcome("a", Day(0), "visit-1", kNoAnswer));
  Know(Outcome("b", Day(0), "visit-1", kNoAnswer));
  EXPECT_EQ(Ask("missed_in_a_row { at_least { value: 2 } }", "b"),
            v1::TRUTH_FALSE);
}

TEST_F(ConditionTest, SelfHarmEarlier) {
  constexpr char kMonth[] = "self_harm_earlier { within_days { value: 30 } }";
  Know(Phq9Total("positive", Day(0), 5, 1));
  Know(Phq9Total("zero", Day(5), 5, 0));
  Know(Outcome("soon", Day(10), "visit-1", kNoAnswer));
  Know(Outcome("edge", Day(30), "visit-2", kNoAnswer));
  Know(Outcome("far", Day(31), "visit-3", kNoAnswer));
  // A later 0 does not clear an earlier positive.
  EXPECT_EQ(Ask(kMonth, "soon"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kMonth, "edge"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kMonth, "far"), v1::TRUTH_FALSE);
  Know(Phq9("silent", Day(32), {0, 0, 0, 0, 0, 0, 0, 0}));
  Know(Outcome("after", Day(33), "visit-4", kNoAnswer));
  EXPECT_EQ(Ask(kMonth, "after"), v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, VisitAccountedFor) {
  constexpr char kIt[] = "visit_accounted_for {}";
  Know(Planned("plan", Day(0), "visit-1", Day(7)));
  EXPECT_EQ(Ask(kIt, "plan", Day(8)), v1::TRUTH_FALSE);
  Know(Outcome("came", Day(7), "visit-1", kAttended));
  EXPECT_EQ(Ask(kIt, "plan", Day(6)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kIt, "plan", Day(8)), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, VisitAccountedForWhenMovedOrDischarged) {
  constexpr char kIt[] = "visit_accounted_for {}";
  Know(Planned("plan", Day(0), "visit-1", Day(7)));
  Know(Planned("moved", Day(3), "visit-1", Day(9)));
  Know(Planned("other", Day(3), "visit-2", Day(9)));
  EXPECT_EQ(Ask(kIt, "plan", Day(8)), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kIt, "moved", Day(10)), v1::TRUTH_FALSE);
  Know(Discharged("out", Day(9)));
  EXPECT_EQ(Ask(kIt, "other", Day(10)), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, OutcomeOfAnEarlierPlanDoesNotCountForALaterOne) {
  Know(Planned("plan", Day(0), "visit-1", Day(7)));
  Know(Outcome("off", Day(6), "visit-1", kNotice));
  Know(Planned("again", Day(6) + absl::Hours(1), "visit-1", Day(14)));
  EXPECT_EQ(Ask("visit_accounted_for {}", "again", Day(15)), v1::TRUTH_FALSE);
}

TEST_F(ConditionTest, AttendedVisitsCountsUpToTheVisitInQuestion) {
  Know(Outcome("v1", Day(0), "visit-1", kAttended));
  Know(Outcome("v2", Day(7), "visit-2", kNoAnswer));
  Know(Outcome("v3", Day(14), "visit-3", kAttended));
  constexpr char kTwo[] = "attended_visits { at_least { value: 2 } }";
  EXPECT_EQ(Ask(kTwo, "v2", Day(30)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kTwo, "v3"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, AttendedVisitsTakesTheNumberPlannedAtEnrolment) {
  v1::Event enrolment = Enrolled("in", Day(0));
  enrolment.mutable_enrolment()->set_planned_visits(2);
  Know(enrolment);
  Know(Outcome("v1", Day(1), "visit-1", kAttended));
  Know(Outcome("v2", Day(8), "visit-2", kAttended));
  EXPECT_EQ(Ask("attended_visits {}", "v1"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("attended_visits {}", "v2"), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, ConfidenceBelow) {
  constexpr char kBelow[] = "confidence_below { percent { value: 80 } }";
  Know(Confidence("low", Day(0), 79));
  Know(Confidence("edge", Day(1), 80));
  Know(Confidence("zero", Day(2), 0));
  Know(Confidence("silent", Day(3), std::nullopt));
  EXPECT_EQ(Ask(kBelow, "low"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kBelow, "edge"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kBelow, "zero"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(kBelow, "silent"), v1::TRUTH_UNKNOWN);
}

TEST_F(ConditionTest, ScreenedWithin) {
  constexpr char kIt[] =
      R"(screened_within { instrument: "phq-9" days { value: 14 } })";
  Know(Phq9Total("old", Day(0), 5));
  Know(Discharged("out", Day(20)));
  EXPECT_EQ(Ask(kIt, "out", Day(25)), v1::TRUTH_FALSE);
  Know(Phq9Total("late", Day(24), 5));
  EXPECT_EQ(Ask(kIt, "out", Day(23)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(kIt, "out", Day(25)), v1::TRUTH_TRUE);
}

TEST_F(ConditionTest, AConditionThisProgramDoesNotKnowIsNeverANo) {
  Know(Phq9Total("e", start_, 12));
  EXPECT_EQ(Ask("", "e"), v1::TRUTH_UNKNOWN);
}

}  // namespace
}  // namespace turnstone
