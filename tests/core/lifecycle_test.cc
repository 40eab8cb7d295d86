// What people may do with an alert, and what they are told when they may not.
#include "service/core/lifecycle.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::HasSubstr;

class LifecycleTest : public CoreFixture {
 protected:
  LifecycleTest() { Submit(Phq9Total("e1", clock_.Now(), 9, 1)); }

  absl::Status Receive(const v1::Actor& by, const std::string& note = "") {
    v1::ReceiveAlertRequest request;
    request.set_alert_id("A-1");
    request.set_note(note);
    absl::Status status = core_->StageReceive(request, by).status();
    EXPECT_TRUE(core_->Commit().ok());
    return status;
  }
  absl::Status Close(const v1::Actor& by, const std::string& outcome,
                     const std::string& note) {
    v1::CloseAlertRequest request;
    request.set_alert_id("A-1");
    request.set_outcome(outcome);
    request.set_note(note);
    absl::Status status = core_->StageClose(request, by).status();
    EXPECT_TRUE(core_->Commit().ok());
    return status;
  }
};

TEST_F(LifecycleTest, ReceivedThenClosedWithEverythingOnRecord) {
  ASSERT_TRUE(Receive(person_, "calling now").ok());
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_RECEIVED);
  ASSERT_TRUE(Close(person_, "spoke-with-participant", "safe tonight").ok());
  Start(std::nullopt);
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.status(), v1::ALERT_STATUS_COMPLETED);
  EXPECT_EQ(alert.closing().outcome(), "spoke-with-participant");
  EXPECT_EQ(alert.closing().by().name(), "r.sorrel");
  ASSERT_EQ(alert.history_size(), 3);
  EXPECT_EQ(alert.history(1).text(), "received: calling now");
}

TEST_F(LifecycleTest, ReceivingTwiceChangesNothing) {
  ASSERT_TRUE(Receive(person_).ok());
  const int64_t position = Alert("A-1").position();
  EXPECT_TRUE(Receive(person_).ok());
  EXPECT_EQ(Alert("A-1").position(), position);
}

TEST_F(LifecycleTest, WhatSomebodyElseHasIsRefusedByName) {
  ASSERT_TRUE(Receive(person_).ok());
  v1::Actor other = person_;
  other.set_name("t.linnet");
  const absl::Status status = Receive(other);
  EXPECT_TRUE(absl::IsFailedPrecondition(status));
  EXPECT_THAT(std::string(status.message()),
              HasSubstr("already with r.sorrel (clinician)"));
}

TEST_F(LifecycleTest, ClosingNeedsAnOutcomeOfTheSite) {
  const absl::Status none = Close(person_, "", "done");
  EXPECT_TRUE(absl::IsInvalidArgument(none));
  EXPECT_THAT(std::string(none.message()),
              HasSubstr("closes only with an outcome"));
  EXPECT_THAT(std::string(none.message()), HasSubstr("safety-plan-made"));
  const absl::Status wrong = Close(person_, "whatever", "done");
  EXPECT_THAT(std::string(wrong.message()), HasSubstr("\"whatever\" is not"));
  EXPECT_EQ(Alert("A-1").status(), v1::ALERT_STATUS_REQUESTED);
}

TEST_F(LifecycleTest, ClosingNeedsANoteOfReasonableLength) {
  EXPECT_TRUE(absl::IsInvalidArgument(Close(person_, "referred-on", "")));
  EXPECT_TRUE(absl::IsInvalidArgument(
      Close(person_, "referred-on", std::string(1001, 'x'))));
  EXPECT_TRUE(Close(person_, "referred-on", std::string(1000, 'x')).ok());
}

TEST_F(LifecycleTest, WhatIsClosedStaysClosed) {
  ASSERT_TRUE(Close(person_, "referred-on", "done").ok());
  EXPECT_TRUE(absl::IsFailedPrecondition(Receive(person_)));
  const absl::Status again = Close(person_, "no-action-needed", "x");
  EXPECT_THAT(std::string(again.message()),
              HasSubstr("r.sorrel closed it with the outcome \"referred-on\""));
}

TEST_F(LifecycleTest, AnIntakeSystemWorksNoAlerts) {
  EXPECT_TRUE(absl::IsPermissionDenied(Receive(by_)));
  EXPECT_TRUE(absl::IsPermissionDenied(Close(by_, "referred-on", "x")));
}

}  // namespace
}  // namespace turnstone
