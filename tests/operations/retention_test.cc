// What is not kept for ever. Source: the comments of site.proto; common
// practice, no source.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>

#include <filesystem>

#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"
#include "tests/operations/raw.h"

namespace turnstone {
namespace {

using testing::IsEmpty;
using testing::Not;

constexpr absl::Duration kDay = absl::Hours(24);

class RetentionTest : public CoreFixture {
 protected:
  void Keep(std::optional<int> after_discharge, std::optional<int> messages) {
    v1::Configuration configuration = ShippedConfiguration();
    v1::Retention& retention =
        *configuration.mutable_site(0)->mutable_retention();
    if (after_discharge) retention.set_after_discharge_days(*after_discharge);
    if (messages) retention.set_messages_days(*messages);
    Start(configuration);
  }
  static v1::Event Of(v1::Event event, const std::string& participant) {
    event.set_participant(participant);
    return event;
  }
  void Course(const std::string& who, bool discharged) {
    ++courses_;
    Submit(Of(Enrolled(absl::StrCat("en", courses_), clock_.Now()), who));
    if (!discharged) return;
    const absl::Time later = clock_.Now() + absl::Seconds(1);
    Submit(Of(Discharged(absl::StrCat("di", courses_), later), who));
  }
  // As after downtime: everything that fell due is asked at once.
  void Pass(int days) {
    clock_.MoveTo(clock_.Now() + days * kDay);
    AskDue();
  }
  bool IsKnown(const std::string& who) {
    v1::GetParticipantRequest request;
    request.set_participant(who);
    return core_->GetParticipant(request, SiteScope::All()).ok();
  }
  size_t MessagesOf(const std::string& alert_id) {
    v1::ListOutboxRequest request;
    request.set_alert_id(alert_id);
    for (const auto status :
         {v1::MESSAGE_STATUS_OWED, v1::MESSAGE_STATUS_SENT,
          v1::MESSAGE_STATUS_WITHDRAWN, v1::MESSAGE_STATUS_GIVEN_UP}) {
      request.add_status(status);
    }
    request.set_page_size(500);
    return static_cast<size_t>(
        core_->ListOutbox(request, SiteScope::All())->message_size());
  }
  void CloseAll() {
    v1::Actor lead;
    lead.set_name("t.linnet");
    lead.set_role("on-call-lead");
    const auto alerts = core_->AlertsAfter("", 0, 1000, SiteScope::All());
    for (const v1::Alert& alert : *alerts) {
      if (!IsOpen(alert)) continue;
      const std::string& id = alert.alert_id();
      (void)Work("close { outcome: 'no-action-needed' note: 'x' }", person_,
                 id);
      if (IsOpen(Alert(id))) (void)Work("confirm {}", lead, id);
      ASSERT_FALSE(IsOpen(Alert(id)));
    }
  }

  int courses_ = 0;
};

TEST_F(RetentionTest, ErasesWhoWasDischargedLongAgo) {
  Keep(30, std::nullopt);
  Course("zz-gone", true);
  Course("zz-still-here", false);
  Pass(29);
  EXPECT_TRUE(IsKnown("zz-gone"));
  Pass(3);
  // What the passing of time has raised keeps them until it is closed.
  CloseAll();
  Pass(1);
  EXPECT_FALSE(IsKnown("zz-gone"));
  EXPECT_TRUE(IsKnown("zz-still-here"));
  EXPECT_THAT(FilesWith("zz-gone", folder_), IsEmpty());
}

TEST_F(RetentionTest, KeepsWhoCameBackOrHadSomethingRecordedSince) {
  Keep(30, std::nullopt);
  Course("p-back", true);
  Course("p-late", true);
  Pass(20);
  Submit(Of(Enrolled("again", clock_.Now()), "p-back"));
  Submit(Of(Phq9Total("late", At("2027-01-04T09:00:00Z"), 3), "p-late"));
  Pass(20);
  EXPECT_TRUE(IsKnown("p-back"));
  EXPECT_TRUE(IsKnown("p-late"));
}

TEST_F(RetentionTest, KeepsWhoHasAnOpenAlert) {
  Keep(30, std::nullopt);
  Submit(Of(Phq9Total("q", clock_.Now(), 12, 2), "p-open"));
  Course("p-open", true);
  Pass(60);
  EXPECT_TRUE(IsKnown("p-open"));
  CloseAll();
  Pass(2);
  EXPECT_FALSE(IsKnown("p-open"));
}

TEST_F(RetentionTest, TakesAFewAtATimeAndForgetsNobody) {
  Keep(30, std::nullopt);
  for (int i = 0; i < 150; ++i) Course(absl::StrCat("p", i), true);
  Pass(40);
  CloseAll();
  int known = 150;
  int rounds = 0;
  // What the passing of time raises is closed before the next look.
  while (known > 0 && rounds < 20) {
    ++rounds;
    Pass(1);
    CloseAll();
    int left = 0;
    for (int i = 0; i < 150; ++i) left += IsKnown(absl::StrCat("p", i)) ? 1 : 0;
    EXPECT_LE(known - left, 64 * (rounds == 1 ? 2 : 1)) << rounds;
    known = left;
  }
  EXPECT_GE(rounds, 2);
  EXPECT_EQ(known, 0);
}

TEST_F(RetentionTest, DeletesOldMessagesThatAreOverWith) {
  Keep(std::nullopt, 7);
  Submit(Phq9Total("q", clock_.Now(), 12, 2));
  ASSERT_GT(MessagesOf("A-1"), 0U);
  CloseAll();
  Pass(6);
  EXPECT_GT(MessagesOf("A-1"), 0U);
  Pass(3);
  EXPECT_EQ(MessagesOf("A-1"), 0U);
  // One that is owed stays, however old.
  const v1::SubmitResponse second =
      Submit(Phq9Total("q2", clock_.Now(), 12, 2));
  Pass(20);
  EXPECT_GT(MessagesOf(second.alert_id(0)), 0U);
}

TEST_F(RetentionTest, NeverDeletesWhatIsStillOwed) {
  const std::string folder = folder_ + "_owed";
  std::filesystem::remove_all(folder);
  {
    auto store = OpenSqliteStore(folder).value();
    WriteBatch batch;
    for (const auto status :
         {v1::MESSAGE_STATUS_OWED, v1::MESSAGE_STATUS_SENT,
          v1::MESSAGE_STATUS_WITHDRAWN, v1::MESSAGE_STATUS_GIVEN_UP}) {
      v1::OwedMessage& message = batch.messages.emplace_back();
      message.set_key(absl::StrCat("A-1/1/somebody/", status));
      message.set_site("pebble-bay");
      message.set_status(status);
      *message.mutable_owed_since() = ToProto(clock_.Now());
    }
    ASSERT_TRUE(store->Commit(batch).ok());
    batch = WriteBatch();
    batch.expired = {{"another", clock_.Now() + kDay},
                     {"pebble-bay", clock_.Now()}};
    ASSERT_TRUE(store->Commit(batch).ok());
    EXPECT_EQ(store->MessagesUnder("A-1").value().size(), 4U);
    batch.expired = {{"pebble-bay", clock_.Now() + absl::Seconds(1)}};
    ASSERT_TRUE(store->Commit(batch).ok());
    const auto left = store->MessagesUnder("A-1").value();
    ASSERT_EQ(left.size(), 1U);
    EXPECT_EQ(left[0].status(), v1::MESSAGE_STATUS_OWED);
  }
  std::filesystem::remove_all(folder);
}

TEST_F(RetentionTest, WithoutItNothingIsErased) {
  Course("p-gone", true);
  Submit(Of(Enrolled("x", clock_.Now()), "p2"));
  Pass(390);
  EXPECT_TRUE(IsKnown("p-gone"));
}

}  // namespace
}  // namespace turnstone
