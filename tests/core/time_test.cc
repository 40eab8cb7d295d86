// What time alone brings about.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class TimeTest : public CoreFixture {};

TEST_F(TimeTest, VisitWithoutOutcomeIsFoundAtTheEndOfTheNextWorkingDay) {
  Submit(Planned("p", clock_.Now(), "visit-1", At("2027-01-08T10:00:00Z")));
  MoveTo(At("2027-01-11T16:59:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
  MoveTo(At("2027-01-11T18:00:00Z"));
  ASSERT_THAT(Alerts(), ElementsAre("A-1 visit-without-outcome"));
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(FromProto(alert.raised_at()), At("2027-01-11T17:00:00Z"));
  EXPECT_EQ(alert.occurrence(0).late_seconds(), 0);
}

TEST_F(TimeTest, AfterDowntimeItCatchesUpAndSaysHowLateItIs) {
  Submit(Planned("p", clock_.Now(), "visit-1", At("2027-01-08T10:00:00Z")));
  clock_.MoveTo(At("2027-01-12T02:00:00Z"));  // nine hours after the deadline
  Start(std::nullopt);
  const Core::DueReport report = AskDue();
  EXPECT_EQ(report.alerts_raised, 1);
  EXPECT_EQ(report.latest, absl::Hours(9));
  EXPECT_EQ(Alert("A-1").occurrence(0).late_seconds(), 9 * 3600);
}

TEST_F(TimeTest, OutcomeInTimeKeepsItQuiet) {
  Submit(Planned("p", clock_.Now(), "visit-1", clock_.Now()));
  Submit(
      Outcome("o", clock_.Now(), "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED));
  MoveTo(At("2027-02-04T10:00:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
}

TEST_F(TimeTest, WishNotRecordedWaitsThenRaisesForReview) {
  Submit(Phq9Total("s", clock_.Now(), 12));
  MoveTo(At("2027-01-06T16:59:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
  MoveTo(At("2027-01-06T17:00:00Z"));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-in-range-and-willing"));
  EXPECT_EQ(Alert("A-1").occurrence(0).truth(), v1::TRUTH_UNKNOWN);
}

TEST_F(TimeTest, EnrolmentDuringTheWaitSettlesIt) {
  Submit(Phq9Total("s", clock_.Now(), 12));
  MoveTo(At("2027-01-05T09:00:00Z"));
  Submit(Enrolled("in", clock_.Now()));
  MoveTo(At("2027-01-20T09:00:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
}

// Whoever was enrolled when the form came in was not to be offered anything, so
// there is nothing to ask again; leaving within the wait does not change that.
TEST_F(TimeTest, WhatWasKnownAtFirstIsNotAskedAgain) {
  Submit(Enrolled("in", clock_.Now()));
  Submit(Phq9Total("s", clock_.Now(), 12));
  MoveTo(At("2027-01-05T09:00:00Z"));
  v1::Event died = Discharged("out", clock_.Now());
  died.mutable_discharge()->set_reason(v1::DISCHARGE_REASON_DIED);
  Submit(died);
  MoveTo(At("2027-01-20T09:00:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
}

TEST_F(TimeTest, DischargeWithoutClosingScreening) {
  Submit(Enrolled("in", clock_.Now()));
  MoveTo(At("2027-01-20T09:00:00Z"));
  Submit(Discharged("out", clock_.Now()));
  MoveTo(At("2027-01-27T16:59:00Z"));
  EXPECT_THAT(Alerts(), IsEmpty());
  MoveTo(At("2027-01-27T17:00:00Z"));
  EXPECT_THAT(Alerts(),
              ElementsAre("A-1 discharged-without-closing-screening"));
}

TEST_F(TimeTest, NewRulesGetTheirTimersForFactsAlreadyKnown) {
  v1::Configuration before = WithoutSignOfLife();
  v1::Configuration after = before;
  // None of those that are left asks anything later, which would bring the
  // others with it.
  for (v1::RuleSet& rule_set : *before.mutable_rule_set()) {
    auto& rules = *rule_set.mutable_rule();
    for (int i = rules.size(); i-- > 0;) {
      if (rules[i].id() != "self-harm-positive") rules.DeleteSubrange(i, 1);
    }
  }
  ASSERT_TRUE(core_->Activate(before).ok());
  Submit(Planned("p", clock_.Now(), "visit-1", At("2027-01-08T10:00:00Z")));
  ASSERT_TRUE(core_->Activate(after).ok());
  MoveTo(At("2027-01-12T10:00:00Z"));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 visit-without-outcome"));
}

}  // namespace
}  // namespace turnstone
