// Accepting events: durable, once, and refused without a trace.
#include "service/core/core.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class CoreTest : public CoreFixture {};

TEST_F(CoreTest, AcceptedEventAndItsAlertOutliveARestart) {
  const absl::Time when = clock_.Now();
  const v1::SubmitResponse response = Submit(Phq9Total("e1", when, 22, 2));
  EXPECT_EQ(response.sequence(), 1);
  EXPECT_THAT(response.alert_id(), ElementsAre("A-1", "A-2"));
  Start(std::nullopt);
  EXPECT_THAT(Alerts(),
              ElementsAre("A-1 self-harm-positive", "A-2 score-above-range"));
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.priority(), v1::PRIORITY_STAT);
  EXPECT_TRUE(alert.latched());
  EXPECT_EQ(alert.rule().configuration().size(), 64u);
  EXPECT_EQ(alert.protocol().id(), "self-harm");
  EXPECT_THAT(alert.caution(), HasSubstr("not an emergency service"));
  EXPECT_EQ(alert.occurrence(0).trace().truth(), v1::TRUTH_TRUE);
}

TEST_F(CoreTest, SameEventAgainGetsTheFirstAnswerAndHasNoSecondEffect) {
  const v1::Event event = Phq9Total("e1", clock_.Now(), 22);
  const v1::SubmitResponse first = Submit(event);
  clock_.MoveTo(clock_.Now() + absl::Hours(5));
  v1::SubmitResponse again = Submit(event);
  EXPECT_TRUE(again.repeated_submission());
  again.set_repeated_submission(false);
  EXPECT_EQ(again.SerializeAsString(), first.SerializeAsString());
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
  Start(std::nullopt);
  EXPECT_TRUE(Submit(event).repeated_submission());
}

TEST_F(CoreTest, SameEventTwiceInOneCommitHasOneEffect) {
  const v1::Event event = Phq9Total("e1", clock_.Now(), 22);
  ASSERT_TRUE(core_->StageSubmit(event, by_).ok());
  EXPECT_TRUE(core_->StageSubmit(event, by_)->repeated_submission());
  ASSERT_TRUE(core_->Commit().ok());
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
}

TEST_F(CoreTest, SameIdWithOtherContentIsRefusedAndChangesNothing) {
  Submit(Phq9Total("e1", clock_.Now(), 12));
  const auto refused =
      core_->StageSubmit(Phq9Total("e1", clock_.Now(), 22), by_);
  EXPECT_TRUE(absl::IsAlreadyExists(refused.status()));
  EXPECT_THAT(std::string(refused.status().message()),
              HasSubstr("nothing was changed"));
  ASSERT_TRUE(core_->Commit().ok());
  EXPECT_THAT(Alerts(), IsEmpty());
}

TEST_F(CoreTest, RefusedEventLeavesNoTrace) {
  v1::Event event = Phq9Total("e1", clock_.Now(), 22);
  event.mutable_screening_result()->set_instrument("no-such");
  EXPECT_TRUE(absl::IsInvalidArgument(core_->StageSubmit(event, by_).status()));
  ASSERT_TRUE(core_->Commit().ok());
  EXPECT_THAT(Alerts(), IsEmpty());
  // The id is still free.
  EXPECT_EQ(Submit(Phq9Total("e1", clock_.Now(), 12)).sequence(), 1);
}

TEST_F(CoreTest, RepeatIsLinkedAndRaisesThePriorityButNeverLowersIt) {
  // 18 to 21: may be above the range, urgent.
  Submit(Phq9("e1", clock_.Now(), {3, 3, 3, 3, 3, 3, 0, std::nullopt, 0}));
  EXPECT_EQ(Alert("A-1").rule().rule(), "score-above-range");
  EXPECT_EQ(Alert("A-1").priority(), v1::PRIORITY_URGENT);
  clock_.MoveTo(clock_.Now() + absl::Hours(24));
  EXPECT_THAT(Submit(Phq9Total("e2", clock_.Now(), 24)).alert_id(),
              testing::Contains("A-1"));
  EXPECT_EQ(Alert("A-1").priority(), v1::PRIORITY_ASAP);
  clock_.MoveTo(clock_.Now() + absl::Hours(24));
  Submit(Phq9("e3", clock_.Now(), {3, 3, 3, 3, 3, 3, 0, std::nullopt, 0}));
  EXPECT_EQ(Alert("A-1").priority(), v1::PRIORITY_ASAP);
  EXPECT_EQ(Alert("A-1").occurrence_size(), 3);
}

TEST_F(CoreTest, ClosedAlertIsNotRaisedAgainForTheSameFact) {
  Submit(Phq9Total("e1", clock_.Now(), 22));
  ASSERT_TRUE(
      Work("close { outcome: 'referred-on' note: 'spoke' }", person_).ok());
  clock_.MoveTo(clock_.Now() + absl::Hours(1));
  // An earlier fact arrives late and puts every question again.
  Submit(Phq9Total("e0", At("2027-01-03T10:00:00Z"), 21));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range ended",
                                    "A-2 score-above-range"));
  EXPECT_EQ(Alert("A-2").occurrence(0).event_id(), "e0");
}

TEST_F(CoreTest, NothingIsReadableBeforeTheCommit) {
  ASSERT_TRUE(core_->StageSubmit(Phq9Total("e1", clock_.Now(), 22), by_).ok());
  Start(std::nullopt);  // as after a crash before the commit
  EXPECT_THAT(Alerts(), IsEmpty());
  EXPECT_FALSE(Submit(Phq9Total("e1", clock_.Now(), 22)).repeated_submission());
}

TEST_F(CoreTest, ServiceTimeNeverGoesBackwards) {
  Submit(Phq9Total("e1", clock_.Now(), 12));
  SimulatedClock early(At("2026-12-01T00:00:00Z"));
  core_.reset();
  Core again(OpenSqliteStore(folder_).value(), early, CoreOptions());
  ASSERT_TRUE(again.Start(std::nullopt).ok());
  EXPECT_EQ(again.Now(), At("2027-01-04T10:00:00Z"));
}

TEST_F(CoreTest, ParticipantPageShowsWhatIsKnownAndDue) {
  Submit(Phq9Total("s1", clock_.Now(), 12));
  Submit(Enrolled("in", clock_.Now()));
  Submit(Planned("p1", clock_.Now(), "visit-1", At("2027-01-05T10:00:00Z")));
  v1::GetParticipantRequest request;
  request.set_participant("p1");  // the only site
  const v1::ParticipantView view =
      core_->GetParticipant(request, SiteScope::All()).value();
  EXPECT_TRUE(view.enrolled());
  EXPECT_EQ(view.visits_planned(), 8);
  EXPECT_EQ(view.visits_attended(), 0);
  ASSERT_EQ(view.timeline_size(), 3);
  ASSERT_EQ(view.series_size(), 1);
  EXPECT_EQ(view.series(0).point(0).band(), "moderate");
  std::vector<std::string> due;
  for (const v1::DueEntry& entry : view.due()) due.push_back(entry.text());
  EXPECT_THAT(
      due,
      ElementsAre("Planned visit without a recorded outcome (visit-1: planned)",
                  "Out of touch: no visit, form or report (PHQ-9 12 "
                  "(moderate))",
                  "Time to screen again (PHQ-9 12 (moderate))"));
}

TEST_F(CoreTest, FollowingAMistypedSiteIsRefusedRatherThanSilent) {
  EXPECT_TRUE(absl::IsNotFound(
      core_->AlertsAfter("peble-bay", 0, 10, SiteScope::All()).status()));
  EXPECT_TRUE(core_->AlertsAfter("pebble-bay", 0, 10, SiteScope::All()).ok());
}

TEST_F(CoreTest, UnknownParticipantAndAlertAreNotFound) {
  v1::GetParticipantRequest request;
  request.set_participant("nobody");
  EXPECT_TRUE(absl::IsNotFound(
      core_->GetParticipant(request, SiteScope::All()).status()));
  EXPECT_TRUE(
      absl::IsNotFound(core_->GetAlert("A-99", SiteScope::All()).status()));
}

}  // namespace
}  // namespace turnstone
