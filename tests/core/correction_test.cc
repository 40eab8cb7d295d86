// Facts that change afterwards: corrections, and facts that arrive late.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class CorrectionTest : public CoreFixture {
 protected:
  const absl::Time later_ = At("2027-01-05T10:00:00Z");
};

TEST_F(CorrectionTest, WithdrawnSourceEndsAnAlertThatIsNotLatched) {
  const v1::Event low = Confidence("c1", clock_.Now(), 40);
  Submit(low);
  clock_.MoveTo(later_);
  Submit(Withdrawn("x", later_, low));
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.status(), v1::ALERT_STATUS_ENTERED_IN_ERROR);
  EXPECT_EQ(alert.withdrawal().event_id(), "x");
  EXPECT_TRUE(alert.occurrence(0).has_no_longer_since());
}

TEST_F(CorrectionTest, LatchedAlertSaysSoAndStillNeedsAPerson) {
  const v1::Event form = Phq9Total("e1", clock_.Now(), 12, 3);
  Submit(form);
  clock_.MoveTo(later_);
  Submit(Replaced("x", later_, Phq9Total("e1", At("2027-01-04T10:00:00Z"), 4)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 self-harm-positive withdrawn"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_REQUESTED);
}

TEST_F(CorrectionTest, CorrectionThatStillRaisesStaysOnTheSameAlert) {
  const v1::Event form = Phq9Total("e1", clock_.Now(), 22);
  Submit(form);
  clock_.MoveTo(later_);
  Submit(
      Replaced("x", later_, Phq9Total("e1", At("2027-01-04T10:00:00Z"), 24)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
  const v1::Alert alert = Alert("A-1");
  ASSERT_EQ(alert.occurrence_size(), 2);
  EXPECT_TRUE(alert.occurrence(0).has_no_longer_since());
  EXPECT_EQ(alert.occurrence(1).corrected_by(), "urn:test x");
}

TEST_F(CorrectionTest, CorrectionIntoTheRangeRaises) {
  const v1::Event form = Phq9Total("e1", clock_.Now(), 4);
  Submit(form);
  EXPECT_THAT(Alerts(), IsEmpty());
  clock_.MoveTo(later_);
  Submit(
      Replaced("x", later_, Phq9Total("e1", At("2027-01-04T10:00:00Z"), 24)));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
}

TEST_F(CorrectionTest, CorrectionBackAgainRaisesAgain) {
  const v1::Event low = Confidence("c1", clock_.Now(), 40);
  Submit(low);
  clock_.MoveTo(later_);
  Submit(Withdrawn("x1", later_, low));
  Submit(Replaced("x2", later_, low));
  EXPECT_THAT(Alerts(),
              ElementsAre("A-1 low-practice-confidence ended withdrawn",
                          "A-2 low-practice-confidence"));
}

TEST_F(CorrectionTest, CorrectedBaselineReachesLaterForms) {
  Submit(Phq9Total("base", clock_.Now(), 12));
  clock_.MoveTo(At("2027-01-11T10:00:00Z"));
  Submit(Phq9Total("next", clock_.Now(), 16));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-in-range-and-willing"));
  Submit(Replaced("x", clock_.Now(),
                  Phq9Total("base", At("2027-01-04T10:00:00Z"), 4)));
  EXPECT_THAT(Alerts(), testing::Contains("A-2 reliable-deterioration"));
}

TEST_F(CorrectionTest, LateFormWithAPositiveItemRaisesThoughANewerOneIsZero) {
  clock_.MoveTo(later_);
  Submit(Phq9Total("new", later_, 4, 0));
  EXPECT_THAT(Alerts(), IsEmpty());
  Submit(Phq9Total("old", At("2027-01-04T09:00:00Z"), 4, 1));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 self-harm-positive"));
}

TEST_F(CorrectionTest, OutcomeThatArrivesLateIsSaidOnTheAlertWhichStaysOpen) {
  Submit(Planned("p", clock_.Now(), "visit-1", clock_.Now()));
  MoveTo(At("2027-01-06T09:00:00Z"));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 visit-without-outcome"));
  Submit(Outcome("o", At("2027-01-04T11:00:00Z"), "visit-1",
                 v1::VISIT_OUTCOME_KIND_ATTENDED));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 visit-without-outcome withdrawn"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_REQUESTED);
}

TEST_F(CorrectionTest, ALaterZeroDoesNotClearAPositiveItem) {
  Submit(Phq9Total("e1", clock_.Now(), 4, 2));
  clock_.MoveTo(later_);
  Submit(Phq9Total("e2", later_, 2, 0));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 self-harm-positive"));
}

TEST_F(CorrectionTest, CorrectionFromAnotherSystemWithTheSameIdCounts) {
  const v1::Event form = Phq9Total("e1", clock_.Now(), 12);
  Submit(form);
  clock_.MoveTo(later_);
  Submit(Replaced("x", later_, Phq9Total("e1", At("2027-01-04T10:00:00Z"), 4)));
  v1::Event other =
      Replaced("x", later_, Phq9Total("e1", At("2027-01-04T10:00:00Z"), 22));
  other.set_source("urn:other");
  Submit(other);
  EXPECT_THAT(Alerts(), testing::Contains("A-1 score-above-range"));
}

}  // namespace
}  // namespace turnstone
