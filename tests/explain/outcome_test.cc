// What a rule says of an event at a moment. Sources: the shipped rules and the
// shipped site's calendar, worked by hand; rule.proto on waiting.
#include "rules/explain/outcome.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "tests/explain/known.h"

namespace turnstone {
namespace {

using testing::HasSubstr;

using OutcomeTest = KnownTest;

TEST_F(OutcomeTest, WhatAppliesRaises) {
  Know(Phq9Total("form", start_, 22));
  const v1::RuleOutcome outcome = Ask("score-above-range", "form", start_);
  EXPECT_EQ(outcome.outcome(), v1::OUTCOME_RAISED);
  EXPECT_EQ(outcome.rule_version(), 1);
  EXPECT_EQ(outcome.title(), "Score above the programme's range");
  EXPECT_EQ(outcome.kind(), v1::ALERT_KIND_REFERRAL);
  EXPECT_EQ(outcome.priority(), v1::PRIORITY_ASAP);
  EXPECT_EQ(FromProto(outcome.due()), start_);
  EXPECT_EQ(outcome.trace().truth(), v1::TRUTH_TRUE);
  EXPECT_THAT(outcome.why(), HasSubstr("total is 22"));
}

TEST_F(OutcomeTest, WhatDoesNotApplySaysByWhichCondition) {
  Know(Phq9Total("form", start_, 19));
  const v1::RuleOutcome outcome = Ask("score-above-range", "form", start_);
  EXPECT_EQ(outcome.outcome(), v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_EQ(outcome.trace().truth(), v1::TRUTH_FALSE);
  EXPECT_THAT(outcome.why(), HasSubstr("total is 19"));
}

// 17 points and an answer missing: the total lies between 17 and 20.
TEST_F(OutcomeTest, WhatCannotBeToldIsForReviewAtItsOwnPriority) {
  Know(Phq9("form", start_, {3, 3, 3, 3, 3, 2, 0, 0, std::nullopt}));
  const v1::RuleOutcome outcome = Ask("score-above-range", "form", start_);
  EXPECT_EQ(outcome.outcome(), v1::OUTCOME_RAISED_FOR_REVIEW);
  EXPECT_EQ(outcome.priority(), v1::PRIORITY_URGENT);
  EXPECT_EQ(outcome.trace().truth(), v1::TRUTH_UNKNOWN);
}

TEST_F(OutcomeTest, AnotherKindOfEventIsNotAskedAbout) {
  Know(Phq9Total("form", start_, 19));
  const v1::RuleOutcome outcome =
      Ask("low-practice-confidence", "form", start_);
  EXPECT_EQ(outcome.outcome(), v1::OUTCOME_NOT_ASKED);
  EXPECT_FALSE(outcome.has_due());
  EXPECT_FALSE(outcome.has_trace());
  EXPECT_THAT(outcome.why(), HasSubstr("practice report"));
}

// The wish to take part was not asked: looked at again two working days later,
// at the end of Wednesday.
TEST_F(OutcomeTest, WaitsUntilItIsAskedAgainAndThenRaises) {
  Know(Phq9Total("form", start_, 12));
  const absl::Time again = At("2027-01-06T17:00:00Z");
  const char* const rule = "score-in-range-and-willing";
  for (const absl::Time moment : {start_, again - absl::Seconds(1)}) {
    const v1::RuleOutcome waits = Ask(rule, "form", moment);
    EXPECT_EQ(waits.outcome(), v1::OUTCOME_WAITS);
    EXPECT_EQ(FromProto(waits.due()), again);
    EXPECT_EQ(waits.trace().truth(), v1::TRUTH_UNKNOWN);
  }
  const v1::RuleOutcome then = Ask(rule, "form", again);
  EXPECT_EQ(then.outcome(), v1::OUTCOME_RAISED_FOR_REVIEW);
  EXPECT_EQ(FromProto(then.due()), again);
}

// Enrolled before it was asked again: then it says no, by what was known then.
TEST_F(OutcomeTest, TheSecondAskingSeesWhatHappenedMeanwhile) {
  Know(Phq9Total("form", start_, 12));
  Know(Enrolled("in", At("2027-01-05T10:00:00Z")));
  const absl::Time again = At("2027-01-06T17:00:00Z");
  const char* const rule = "score-in-range-and-willing";
  EXPECT_EQ(Ask(rule, "form", again - absl::Seconds(1)).outcome(),
            v1::OUTCOME_WAITS);
  const v1::RuleOutcome then = Ask(rule, "form", again);
  EXPECT_EQ(then.outcome(), v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_THAT(then.why(), HasSubstr("enrolled"));
}

// What was known the first time is not asked again.
TEST_F(OutcomeTest, WhatWasToldTheFirstTimeStands) {
  v1::Event form = Phq9Total("form", start_, 12);
  form.mutable_screening_result()->set_willing(true);
  Know(form);
  Know(Enrolled("in", At("2027-01-05T10:00:00Z")));
  const v1::RuleOutcome outcome =
      Ask("score-in-range-and-willing", "form", At("2027-02-04T10:00:00Z"));
  EXPECT_EQ(outcome.outcome(), v1::OUTCOME_RAISED);
  EXPECT_EQ(FromProto(outcome.due()), start_);
}

// A visit planned for Monday is asked about at the end of Tuesday.
TEST_F(OutcomeTest, WhatIsAskedLaterIsNotSaidBefore) {
  Know(Planned("plan", start_, "visit-1", start_ + absl::Hours(1)));
  const absl::Time due = At("2027-01-05T17:00:00Z");
  const char* const rule = "visit-without-outcome";
  const v1::RuleOutcome before = Ask(rule, "plan", due - absl::Seconds(1));
  EXPECT_EQ(before.outcome(), v1::OUTCOME_NOT_YET);
  EXPECT_EQ(FromProto(before.due()), due);
  EXPECT_FALSE(before.has_trace());
  EXPECT_THAT(before.why(), HasSubstr("1 working day"));
  EXPECT_EQ(Ask(rule, "plan", due).outcome(), v1::OUTCOME_RAISED);
}

// Events may be dated five minutes ahead (event.proto), and are asked about as
// they come in.
TEST_F(OutcomeTest, AnEventDatedAheadWasAskedAboutWhenItCameIn) {
  Know(Phq9Total("form", start_ + absl::Minutes(5), 22));
  EXPECT_EQ(Ask("score-above-range", "form", start_).outcome(),
            v1::OUTCOME_RAISED);
}

TEST_F(OutcomeTest, EveryRuleIsToldOfInTheOrderOfTheRuleSet) {
  Know(Phq9Total("form", start_, 22));
  const std::vector<v1::RuleOutcome> outcomes = OutcomesOf(0, KnownAt(start_));
  ASSERT_EQ(outcomes.size(), static_cast<size_t>(site_.rules.rule_size()));
  for (int i = 0; i < site_.rules.rule_size(); ++i) {
    EXPECT_EQ(outcomes[static_cast<size_t>(i)].rule(),
              site_.rules.rule(i).id());
  }
}

}  // namespace
}  // namespace turnstone
