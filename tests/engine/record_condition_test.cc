// Conditions on results, contacts, discharge and what was done when. Expected
// truths follow from rule.proto's own words.
#include <gtest/gtest.h>

#include <string>

#include "tests/engine/condition_fixture.h"

namespace turnstone {
namespace {

class RecordConditionTest : public ConditionTest {
 protected:
  static v1::Event Result(const std::string& id, absl::Time when,
                          const std::string& code) {
    v1::Event event = EventAt(id, when);
    event.mutable_screening_result()->set_instrument("cognitive-screen");
    event.mutable_screening_result()->set_result(code);
    return event;
  }
  static v1::Event Left(absl::Time when, v1::DischargeReason reason) {
    v1::Event event = EventAt("out", when);
    event.mutable_discharge()->set_reason(reason);
    return event;
  }
};

TEST_F(RecordConditionTest, ResultIsOneOfThoseNamed) {
  Know(Result("above", Day(0), "at-or-above-cut"));
  Know(Result("below", Day(1), "below-cut"));
  Know(Phq9Total("form", Day(2), 12));
  const std::string asked =
      R"(result { code: "at-or-above-cut" code: "not-done" })";
  EXPECT_EQ(Ask(asked, "above"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(asked, "below"), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(asked, "form"), v1::TRUTH_UNKNOWN);
}

TEST_F(RecordConditionTest, WishRecorded) {
  v1::Event no = Phq9Total("no", Day(0), 12);
  no.mutable_screening_result()->set_willing(false);
  Know(no);
  Know(Phq9Total("silent", Day(1), 12));
  EXPECT_EQ(Ask("wish_recorded {}", "no"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("wish_recorded {}", "silent"), v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, ScreeningsAreCountedUpToTheOneAskedAbout) {
  const std::string two =
      R"(screenings { instrument: "phq-9" at_least { value: 2 } })";
  Know(Phq9Total("first", Day(0), 12));
  Know(Phq9Total("second", Day(7), 12));
  EXPECT_EQ(Ask(two, "first", Day(30)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(two, "second"), v1::TRUTH_TRUE);
}

TEST_F(RecordConditionTest, ScreeningsCanBeThoseWithALowTotal) {
  const std::string low = R"(screenings { instrument: "phq-9"
      at_least { value: 1 } total_at_most { value: 9 } })";
  Know(Phq9Total("high", Day(0), 10));
  EXPECT_EQ(Ask(low, "high"), v1::TRUTH_FALSE);
  // 8 to 11.
  Know(Phq9("open", Day(7), {2, 2, 2, 2, 0, 0, 0, 0}));
  EXPECT_EQ(Ask(low, "open"), v1::TRUTH_UNKNOWN);
  Know(Phq9Total("low", Day(14), 9));
  EXPECT_EQ(Ask(low, "low"), v1::TRUTH_TRUE);
}

TEST_F(RecordConditionTest, AttendedVisitsCanBeCountedUpToTheAsking) {
  Know(Phq9Total("form", Day(0), 10));
  Know(Outcome("o", Day(0) + absl::Minutes(50), "visit-1",
               v1::VISIT_OUTCOME_KIND_ATTENDED));
  EXPECT_EQ(Ask("attended_visits { at_least { value: 1 } }", "form", Day(1)),
            v1::TRUTH_FALSE);
  EXPECT_EQ(Ask("attended_visits { at_least { value: 1 } by_asking: true }",
                "form", Day(1)),
            v1::TRUTH_TRUE);
}

TEST_F(RecordConditionTest, EveryKindOfContactCountsAndNothingElse) {
  constexpr char kSince[] = "contact_since {}";
  Know(Enrolled("in", Day(0)));
  EXPECT_EQ(Ask(kSince, "in", Day(30)), v1::TRUTH_FALSE);
  Know(Outcome("away", Day(1), "visit-1", v1::VISIT_OUTCOME_KIND_NO_ANSWER));
  Know(Planned("plan", Day(2), "visit-2", Day(3)));
  Know(Left(Day(4), v1::DISCHARGE_REASON_OTHER));
  EXPECT_EQ(Ask(kSince, "in", Day(30)), v1::TRUTH_FALSE);
  for (const v1::Event& contact :
       {Outcome("seen", Day(5), "visit-2", v1::VISIT_OUTCOME_KIND_ATTENDED),
        Phq9Total("form", Day(5), 12), Confidence("practice", Day(5), 80),
        Enrolled("again", Day(5))}) {
    history_ = History();
    Know(Enrolled("in", Day(0)));
    Know(contact);
    EXPECT_EQ(Ask(kSince, "in", Day(4)), v1::TRUTH_FALSE);
    EXPECT_EQ(Ask(kSince, "in", Day(30)), v1::TRUTH_TRUE) << contact.event_id();
  }
}

TEST_F(RecordConditionTest, DischargedAsOneOfTheReasons) {
  constexpr char kDied[] = "discharged_as { reason: DISCHARGE_REASON_DIED }";
  Know(Enrolled("in", Day(0)));
  EXPECT_EQ(Ask(kDied, "in", Day(1)), v1::TRUTH_FALSE);
  Know(Left(Day(2), v1::DISCHARGE_REASON_DIED));
  EXPECT_EQ(Ask(kDied, "out"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("discharged_as { reason: DISCHARGE_REASON_COMPLETED }", "out"),
            v1::TRUTH_FALSE);
  Know(Enrolled("again", Day(3)));
  EXPECT_EQ(Ask(kDied, "out", Day(4)), v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, ScreenedWithinLeavesOutTheFormAskedAbout) {
  const std::string again =
      R"(screened_within { instrument: "phq-9" days { value: 0 } })";
  Know(Phq9Total("first", Day(0), 12));
  EXPECT_EQ(Ask(again, "first", Day(30)), v1::TRUTH_FALSE);
  Know(Phq9Total("second", Day(7), 12));
  EXPECT_EQ(Ask(again, "first", Day(30)), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(again, "second", Day(30)), v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, SinceIsAfterTheEventOnly) {
  const std::string again =
      R"(screened_within { instrument: "phq-9" since: true })";
  Know(Phq9Total("before", Day(0) - absl::Hours(1), 12));
  Know(Phq9Total("form", Day(0), 12));
  EXPECT_EQ(Ask(again, "form", Day(30)), v1::TRUTH_FALSE);
  Know(Phq9Total("later", Day(0) + absl::Hours(1), 12));
  EXPECT_EQ(Ask(again, "form", Day(30)), v1::TRUTH_TRUE);
}

// One form sent by two systems: each must not answer for the other.
TEST_F(RecordConditionTest, ACopyOfTheFormDoesNotCountForBoth) {
  const std::string again =
      R"(screened_within { instrument: "phq-9" since: true })";
  Know(Phq9Total("copy-1", Day(0), 12));
  Know(Phq9Total("copy-2", Day(0), 12));
  EXPECT_EQ(Ask(again, "copy-1", Day(30)), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(again, "copy-2", Day(30)), v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, AnotherInstrumentAtTheSameMomentIsSince) {
  const std::string screened =
      R"(screened_within { instrument: "cognitive-screen" since: true })";
  Know(Result("a-result", Day(0), "below-cut"));
  Know(Phq9Total("form", Day(0), 12));
  EXPECT_EQ(Ask(screened, "form", Day(1)), v1::TRUTH_TRUE);
}

// Declined as a whole: nothing was found out, and the person not seen.
TEST_F(RecordConditionTest, WhatWasNotDoneIsNeitherScreeningNorContact) {
  v1::Event declined = EventAt("declined", Day(5));
  v1::ScreeningResult& form = *declined.mutable_screening_result();
  form.set_instrument("phq-9");
  v1::ItemAnswer& answer = *form.add_answers();
  answer.set_question("44250-9");
  answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
  Know(Enrolled("in", Day(0)));
  Know(declined);
  Know(Result("not-done", Day(6), "not-done"));
  EXPECT_EQ(Ask("contact_since {}", "in", Day(30)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(R"(screened_within { instrument: "phq-9"
                instrument: "cognitive-screen" since: true })",
                "in", Day(30)),
            v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, AResultMayCountAsAPositiveSelfHarmItem) {
  constexpr char kEarlier[] = "self_harm_earlier { within_days { value: 90 } }";
  v1::Event follow_up = EventAt("follow-up", Day(0));
  follow_up.mutable_screening_result()->set_instrument("self-harm-follow-up");
  follow_up.mutable_screening_result()->set_result("no-further-action");
  Know(follow_up);
  Know(Outcome("missed", Day(7), "visit-1", v1::VISIT_OUTCOME_KIND_NO_ANSWER));
  EXPECT_EQ(Ask(kEarlier, "missed"), v1::TRUTH_FALSE);
  follow_up.set_event_id("another");
  follow_up.mutable_screening_result()->set_result("seen-today");
  Know(follow_up);
  EXPECT_EQ(Ask(kEarlier, "missed"), v1::TRUTH_TRUE);
}

TEST_F(RecordConditionTest, VisitsOfAnEarlierProgrammeAreNotCounted) {
  constexpr char kOne[] = "attended_visits { at_least { value: 1 } }";
  Know(Enrolled("in", Day(0)));
  Know(Outcome("seen", Day(1), "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED));
  Know(Discharged("out", Day(2)));
  EXPECT_EQ(Ask(kOne, "out"), v1::TRUTH_TRUE);
  Know(Enrolled("again", Day(30)));
  EXPECT_EQ(Ask(kOne, "again"), v1::TRUTH_FALSE);
  Know(Outcome("seen-2", Day(31), "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED));
  EXPECT_EQ(Ask(kOne, "seen-2"), v1::TRUTH_TRUE);
}

TEST_F(RecordConditionTest, EnrolledAgainAtTheMomentOfDischargeIsEnrolled) {
  Know(Enrolled("in", Day(0)));
  Know(Outcome("seen", Day(1), "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED));
  // In either order of ids.
  Know(Discharged("b-out", Day(2)));
  Know(Enrolled("a-again", Day(2)));
  Know(Phq9Total("form", Day(3), 12));
  EXPECT_EQ(Ask("enrolled {}", "form"), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask("attended_visits { at_least { value: 1 } }", "form"),
            v1::TRUTH_FALSE);
}

TEST_F(RecordConditionTest, ScreenedWithinCanCountBackFromTheAsking) {
  const std::string lately = R"(screened_within {
      instrument: "phq-9" days { value: 14 } before_asking: true })";
  Know(Left(Day(0), v1::DISCHARGE_REASON_COMPLETED));
  Know(Phq9Total("follow-up", Day(28), 5));
  EXPECT_EQ(Ask(lately, "out", Day(30)), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(lately, "out", Day(42)), v1::TRUTH_TRUE);
  EXPECT_EQ(Ask(lately, "out", Day(43)), v1::TRUTH_FALSE);
}

// Source: rule.proto, Condition.
TEST_F(RecordConditionTest, MoreThanCanBeLookedAtIsUnknownWhateverIsAsked) {
  const auto name = [](size_t n) { return "e" + std::to_string(n); };
  for (size_t n = 1; n <= kFactsMax + 1; ++n) {
    Know(Phq9Total(name(n), start_ + absl::Seconds(n), 12));
  }
  const std::string asked = R"(all_of { condition { enrolled {} } })";
  EXPECT_EQ(Ask(asked, name(kFactsMax)), v1::TRUTH_FALSE);
  EXPECT_EQ(Ask(asked, name(kFactsMax + 1)), v1::TRUTH_UNKNOWN);
}

}  // namespace
}  // namespace turnstone
