// The disk runs full: events are refused, open alerts go on, and afterwards it
// is as if nothing had been. BrokeDurable, BrokeOnce, BrokeOnTime.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <functional>

#include "rules/measure/proto_time.h"
#include "service/core/commit_round.h"
#include "tests/core/core_fixture.h"
#include "tests/store/failing_vfs.h"

namespace turnstone {
namespace {

using testing::Each;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

constexpr int64_t kReserve = int64_t{4} << 20;
constexpr int64_t kPlenty = int64_t{1} << 40;

// The disk the failing file system writes to.
class FakeSpace final : public DiskSpace {
 public:
  [[nodiscard]] int64_t Free() override { return std::max<int64_t>(0, free); }
  [[nodiscard]] int64_t reserve_bytes() const override { return kReserve; }
  [[nodiscard]] absl::Status Hold() override {
    if (held) return absl::OkStatus();
    if (free < kReserve) return absl::ResourceExhaustedError("no room");
    free -= kReserve;
    held = true;
    return absl::OkStatus();
  }
  void Release() override {
    if (held) free += kReserve;
    held = false;
  }

  int64_t free = kPlenty;
  bool held = false;
};

class DiskFullTest : public CoreFixture {
 protected:
  DiskFullTest() {
    options_.space = &space_;
    vfs_.SetRoom(&space_.free);
    StartAgain();
  }
  // Before its file system goes.
  ~DiskFullTest() override { core_.reset(); }

  void StartAgain() {
    core_.reset();
    Start(std::nullopt);
    core_->LookAtMachine();
  }
  // Nothing can be written that makes a file grow.
  void FillUp() { space_.free = 0; }
  // Nor anything else, as where files are copied on being written; and the
  // reserve is gone.
  void FillUpWholly() {
    space_.free = -1;
    space_.held = false;
  }
  void MakeRoom() {
    space_.free = kPlenty;
    core_->LookAtMachine();
  }
  v1::Event SelfHarm(const std::string& id, const std::string& participant) {
    v1::Event event = Phq9Total(id, clock_.Now(), 12, 1);
    event.set_participant(participant);
    return event;
  }
  absl::Status TrySubmit(const v1::Event& event) {
    const auto staged = core_->StageSubmit(event, by_);
    const absl::Status committed = core_->Commit();
    return committed.ok() ? staged.status() : committed;
  }
  // Everything there is to see.
  std::string Everything() {
    std::string all;
    const auto alerts = core_->AlertsAfter("", 0, 1000, SiteScope::All());
    for (const v1::Alert& alert : *alerts) {
      absl::StrAppend(&all, alert.DebugString());
    }
    v1::ListOutboxRequest request;
    for (int status = 1; status <= 4; ++status) {
      request.add_status(static_cast<v1::MessageStatus>(status));
    }
    const v1::Outbox outbox =
        core_->ListOutbox(request, SiteScope::All()).value();
    absl::StrAppend(
        &all, outbox.DebugString(),
        core_->GetHandover({}, SiteScope::All()).value().DebugString());
    return all;
  }

  FakeSpace space_;
  FailingVfs vfs_;
};

MATCHER(IsNotAccepted, "") {
  *result_listener << arg.ToString();
  return absl::IsResourceExhausted(arg) &&
         std::string(arg.message()).find("not accepted") != std::string::npos;
}

TEST_F(DiskFullTest, EventsAreRefusedBeforeAnythingFails) {
  EXPECT_TRUE(space_.held);
  Submit(SelfHarm("e1", "p1"));
  space_.free = SpaceWatch::kLowMark - 1;
  core_->LookAtMachine();
  EXPECT_EQ(core_->room(), Room::kShort);
  EXPECT_FALSE(space_.held);
  EXPECT_THAT(TrySubmit(SelfHarm("e2", "p2")), IsNotAccepted());
  EXPECT_THAT(core_->Concerns(), testing::Contains(HasSubstr("disk space")));
  // Accepted before, and still known.
  EXPECT_TRUE(Submit(SelfHarm("e1", "p1")).repeated_submission());
  // Other content under a known id is a mistake that waiting does not mend.
  EXPECT_TRUE(absl::IsAlreadyExists(TrySubmit(SelfHarm("e1", "p2"))));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 self-harm-positive"));
}

// Between the marks nothing changes, so that it does not go to and fro.
TEST_F(DiskFullTest, EventsAreTakenAgainWithRoomToSpare) {
  space_.free = SpaceWatch::kLowMark;
  core_->LookAtMachine();
  EXPECT_EQ(core_->room(), Room::kEnough);
  space_.free = SpaceWatch::kLowMark - 1;
  core_->LookAtMachine();
  EXPECT_THAT(TrySubmit(SelfHarm("e1", "p1")), IsNotAccepted());
  space_.free = SpaceWatch::kHighMark + kReserve - 1;
  core_->LookAtMachine();
  EXPECT_EQ(core_->room(), Room::kShort);
  ++space_.free;
  core_->LookAtMachine();
  EXPECT_EQ(core_->room(), Room::kEnough);
  EXPECT_TRUE(space_.held);
  EXPECT_FALSE(Submit(SelfHarm("e1", "p1")).repeated_submission());
  EXPECT_TRUE(Submit(SelfHarm("e1", "p1")).repeated_submission());
  EXPECT_THAT(Alerts(), ElementsAre("A-1 self-harm-positive"));
}

TEST_F(DiskFullTest, ReserveThatCannotBeHeldIsShortFromTheStart) {
  space_.free = kReserve - 1;
  space_.held = false;
  StartAgain();
  EXPECT_EQ(core_->room(), Room::kShort);
}

TEST_F(DiskFullTest, RefusedCommitHasNoEffect) {
  Submit(SelfHarm("e1", "p1"));
  const std::string before = Everything();
  const int64_t position = core_->position();
  FillUp();
  v1::OfferHandoverRequest offer;
  offer.set_to("t.linnet");
  v1::Actor rowan;
  rowan.set_name("m.rowan");
  rowan.set_role("on-call-lead");
  ASSERT_TRUE(core_->StageSubmit(SelfHarm("e2", "p1"), by_).ok());
  ASSERT_TRUE(core_->StageSubmit(SelfHarm("e3", "p3"), by_).ok());
  ASSERT_TRUE(core_->StageOffer(offer, rowan).ok());
  v1::WorkAlertRequest receive;
  receive.set_alert_id("A-1");
  receive.mutable_receive();
  ASSERT_TRUE(core_->StageWork(receive, person_).ok());
  EXPECT_THAT(core_->Commit(), IsNotAccepted());
  EXPECT_FALSE(core_->broken());
  EXPECT_EQ(core_->position(), position);
  EXPECT_EQ(Everything(), before);
  EXPECT_TRUE(
      absl::IsNotFound(core_->GetAlert("A-2", SiteScope::All()).status()));

  MakeRoom();
  EXPECT_EQ(Submit(SelfHarm("e3", "p3")).sequence(), 2);
  EXPECT_EQ(Submit(SelfHarm("e2", "p1")).sequence(), 3);
  EXPECT_THAT(Alerts(),
              ElementsAre("A-1 self-harm-positive", "A-2 self-harm-positive"));
  const std::string after = Everything();
  StartAgain();
  EXPECT_EQ(Everything(), after);
}

// Nobody is kept from looking, and what they saw is on record afterwards; the
// reserve is not for that.
TEST_F(DiskFullTest, LooksAreKeptInMindUntilThereIsRoom) {
  Submit(SelfHarm("e1", "p1"));
  FillUp();
  EXPECT_THAT(TrySubmit(SelfHarm("e2", "p2")), IsNotAccepted());
  ASSERT_TRUE(core_->GetAlert("A-1", SiteScope::All()).ok());
  core_->NoteLook(person_, {"saw the alert", {"pebble-bay", "p1"}, "A-1"});
  v1::ListDisclosuresRequest request;
  request.set_participant("p1");
  MoveTo(clock_.Now() + absl::Minutes(20));
  // It says rather that it is not complete.
  EXPECT_TRUE(absl::IsFailedPrecondition(
      core_->ListDisclosures(request, SiteScope::All()).status()));
  EXPECT_FALSE(core_->broken());
  MakeRoom();
  const v1::Disclosures listed =
      core_->ListDisclosures(request, SiteScope::All()).value();
  ASSERT_EQ(listed.disclosure_size(), 1);
  EXPECT_EQ(FromProto(listed.disclosure(0).at()), At("2027-01-04T10:00:00Z"));
}

// The reserve is for this: everything but the taking of events.
TEST_F(DiskFullTest, OpenAlertsClimbAndAreWorkedOnTheReserve) {
  Submit(SelfHarm("e1", "p1"));
  FillUp();
  EXPECT_THAT(TrySubmit(SelfHarm("e2", "p2")), IsNotAccepted());
  EXPECT_EQ(core_->room(), Room::kShort);
  // The ladder for stat in deploy/config/sites/: 15 minutes, then 30.
  MoveTo(At("2027-01-04T10:15:00Z"));
  EXPECT_EQ(Alert("A-1").escalation().rungs_reached(), 2);
  MoveTo(At("2027-01-04T10:45:00Z"));
  EXPECT_EQ(Alert("A-1").escalation().rungs_reached(), 3);
  EXPECT_TRUE(Work("receive {}", person_).ok());
  EXPECT_EQ(Alert("A-1").holder().name(), "r.sorrel");
  EXPECT_EQ(core_->room(), Room::kShort);
}

TEST_F(DiskFullTest, WithoutAnyRoomItGoesOnTryingAndThenCatchesUp) {
  Submit(SelfHarm("e1", "p1"));
  FillUpWholly();
  const std::string before = Everything();
  clock_.MoveTo(At("2027-01-04T10:20:00Z"));
  for (int round = 0; round < 3; ++round) {
    core_->LookAtMachine();
    EXPECT_THAT(core_->AskAllDue().status(), IsNotAccepted());
    EXPECT_FALSE(core_->broken());
  }
  EXPECT_EQ(core_->room(), Room::kNone);
  EXPECT_THAT(core_->Concerns(),
              testing::Contains(HasSubstr("nothing can be recorded")));
  EXPECT_EQ(Alert("A-1").escalation().rungs_reached(), 1);

  space_.free = 4 << 20;  // not enough for events
  core_->LookAtMachine();
  EXPECT_EQ(core_->room(), Room::kShort);
  AskDue();
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.escalation().rungs_reached(), 2);
  // Told late, and the next rung counts from when it was told, as after
  // downtime.
  EXPECT_GT(FromProto(alert.escalation().next_at()), clock_.Now());
}

// Several at once: where the batch of all does not fit, they go one by one.
TEST_F(DiskFullTest, WhatIsDueIsRecordedOneByOneWhereRoomIsTight) {
  for (int n = 0; n < 100; ++n) {
    Submit(SelfHarm(absl::StrCat("e", n), absl::StrCat("p", n)));
  }
  const auto syncs = [this] {
    return vfs_.Count(FailingVfs::Call::kSync, "-wal");
  };
  clock_.MoveTo(At("2027-01-04T10:20:00Z"));
  vfs_.FailOnce(FailingVfs::Call::kWrite, 50, "-wal", SQLITE_FULL);
  EXPECT_THAT(core_->AskAllDue().status(), IsNotAccepted());
  const int before = syncs();
  EXPECT_EQ(AskDue().participants, 100);
  EXPECT_GE(syncs() - before, 100);
}

TEST_F(DiskFullTest, WhatIsOwedIsSentEachOnceThoughItCannotBeRecorded) {
  const ChannelKey mail{"pebble-bay", "mail"};
  Submit(SelfHarm("e1", "p1"));
  FillUpWholly();
  std::vector<std::string> sent;
  while (true) {
    const auto next = core_->NextEnvelope(mail);
    ASSERT_TRUE(next.ok()) << next.status();
    if (!next->has_value()) break;
    ASSERT_LT(sent.size(), 10U) << "the same again";
    sent.push_back((*next)->key);
    core_->StageDelivery(**next, absl::OkStatus());
    EXPECT_THAT(core_->Commit(), IsNotAccepted());
  }
  // The ladder's first rung, as in delivery_test.cc.
  EXPECT_THAT(sent, testing::UnorderedElementsAre("A-1/1/a.fennel/mail",
                                                  "A-1/1/m.rowan/mail",
                                                  "A-1/1/r.sorrel/mail"));
  MakeRoom();
  AskDue();
  v1::ListOutboxRequest request;
  request.add_status(v1::MESSAGE_STATUS_SENT);
  const v1::Outbox outbox =
      core_->ListOutbox(request, SiteScope::All()).value();
  EXPECT_EQ(outbox.message_size(), 3);
  for (const v1::OwedMessage& message : outbox.message()) {
    EXPECT_EQ(message.attempts(), 1);
  }
  EXPECT_FALSE(core_->NextEnvelope(mail).value().has_value());
}

// A sending that failed counts once for its channel, however often recording it
// was tried: three in a row would let the channel rest.
TEST_F(DiskFullTest, FailedSendingCountsOnceForItsChannel) {
  const ChannelKey mail{"pebble-bay", "mail"};
  Submit(SelfHarm("e1", "p1"));
  const auto next = core_->NextEnvelope(mail).value();
  ASSERT_TRUE(next.has_value());
  core_->StageDelivery(*next, absl::UnavailableError("451 later"));
  FillUpWholly();
  EXPECT_THAT(core_->Commit(), IsNotAccepted());
  for (int again = 0; again < 4; ++again) {
    EXPECT_THAT(core_->AskAllDue().status(), IsNotAccepted());
  }
  MakeRoom();
  AskDue();
  const v1::Outbox outbox = core_->ListOutbox({}, SiteScope::All()).value();
  for (const v1::ChannelState& state : outbox.channel()) {
    if (state.channel() == mail.channel) {
      EXPECT_EQ(state.failures_in_a_row(), 1);
    }
  }
}

TEST_F(DiskFullTest, RoundAnswersEveryChangeAndTellsOfTheRoom) {
  ChangeHub hub;
  CommitRound round(*core_, hub);
  std::vector<Room> told;
  round.OnRoom([&](Room room) { told.push_back(room); });
  round.OnBroken([] { ADD_FAILURE() << "it is not broken"; });
  round.Begin();
  std::vector<absl::Status> answers;
  const auto submit = [&](const v1::Event& event) -> CommitRound::Change {
    return [&, event](Core& core) -> CommitRound::Answer {
      (void)core.StageSubmit(event, by_);
      return [&](const absl::Status& status) { answers.push_back(status); };
    };
  };
  EXPECT_TRUE(round.AskWhatIsDue());
  FillUpWholly();
  round.Do({{submit(SelfHarm("e1", "p1")), submit(SelfHarm("e2", "p2"))}, {}});
  EXPECT_THAT(answers, SizeIs(2));
  EXPECT_THAT(answers, Each(IsNotAccepted()));
  EXPECT_THAT(told, ElementsAre(Room::kShort));
  round.Do({{submit(SelfHarm("e1", "p1"))}, {}});
  EXPECT_THAT(Alerts(), IsEmpty());
  space_.free = kPlenty;
  EXPECT_TRUE(round.AskWhatIsDue());
  EXPECT_THAT(told, ElementsAre(Room::kShort, Room::kEnough));
}

// Every write of a short life finds the disk full once, each in a life of its
// own; whoever was refused repeats it. In the end it is as if it had not been.
class FullAtAnyWriteTest : public DiskFullTest {
 protected:
  using Step = std::function<absl::Status()>;

  FullAtAnyWriteTest() {
    rowan_.set_name("m.rowan");
    rowan_.set_role("on-call-lead");
    linnet_ = rowan_;
    linnet_.set_name("t.linnet");
  }
  absl::Status Committed(const absl::Status& staged) {
    const absl::Status committed = core_->Commit();
    return committed.ok() ? staged : committed;
  }
  Step Event(const std::string& id, const std::string& participant) {
    return [=, this] { return TrySubmit(SelfHarm(id, participant)); };
  }
  Step SendOne() {
    return [this] {
      const auto next = core_->NextEnvelope({"pebble-bay", "mail"}).value();
      if (next) core_->StageDelivery(*next, absl::OkStatus());
      const absl::Status status = core_->Commit();
      // It is sent: there is nothing to repeat, only to record.
      return absl::IsResourceExhausted(status) ? core_->AskAllDue().status()
                                               : status;
    };
  }
  Step TimePasses() {
    return [this] { return core_->AskAllDue().status(); };
  }
  Step Offer() {
    return [this] {
      v1::OfferHandoverRequest request;
      request.set_to("t.linnet");
      return Committed(core_->StageOffer(request, rowan_).status());
    };
  }
  Step Answer() {
    return [this] {
      v1::AnswerHandoverRequest request;
      request.set_yes(true);
      return Committed(core_->StageAnswer(request, linnet_).status());
    };
  }
  Step Receive() {
    return [this] {
      v1::WorkAlertRequest request;
      request.set_alert_id("A-1");
      request.mutable_receive();
      return Committed(core_->StageWork(request, rowan_).status());
    };
  }
  std::vector<Step> Life() {
    return {Event("e1", "p1"), SendOne(), Receive(),         Event("e2", "p2"),
            Offer(),           Answer(),  Event("e3", "p1"), SendOne()};
  }
  // Again, if it is not accepted; but not for ever.
  void Insist(const Step& step) {
    absl::Status status = step();
    if (!status.ok()) {
      EXPECT_THAT(status, IsNotAccepted());
      core_->LookAtMachine();
      status = step();
    }
    EXPECT_TRUE(status.ok()) << status;
  }
  // From an empty folder; the `nth` write finds the disk full. 0: none does.
  std::string Live(int nth) {
    core_.reset();
    std::filesystem::remove_all(folder_);
    SimulatedClock clock(clock_.Now());
    core_ = std::make_unique<Core>(OpenSqliteStore(folder_).value(), clock,
                                   options_);
    EXPECT_TRUE(core_->Start(shipped_).ok());
    vfs_.FailOnce(FailingVfs::Call::kWrite, nth, "", SQLITE_FULL);
    for (const Step& step : Life()) {
      clock.MoveTo(clock.Now() + absl::Minutes(20));
      Insist(TimePasses());
      Insist(step);
    }
    std::string everything = Everything();
    core_.reset();  // before its clock goes
    return everything;
  }

  const v1::Configuration shipped_ = WithoutSignOfLife();
  v1::Actor rowan_;
  v1::Actor linnet_;
};

TEST_F(FullAtAnyWriteTest, LeavesNoTraceOnceRepeated) {
  // Not each of them, for time: a stride that shares no factor with the writes
  // of a page, which come in twos.
  constexpr int kStride = 7;
  const std::string undisturbed = Live(0);
  int nth = 1;
  do {
    SCOPED_TRACE(nth);
    EXPECT_EQ(Live(nth), undisturbed);
    nth += kStride;
  } while (vfs_.Failed() && !HasFailure());
  EXPECT_GT(nth, 100);  // the loop did go through a life
}

}  // namespace
}  // namespace turnstone
