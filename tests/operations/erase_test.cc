// Erasing a participant. Source: the promises of operations.proto; what must be
// gone is planted and looked for in the raw files.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>
#include <google/protobuf/util/message_differencer.h>

#include <filesystem>
#include <random>

#include "service/core/verify_record.h"
#include "tests/core/core_fixture.h"
#include "tests/operations/raw.h"

namespace turnstone {
namespace {

using google::protobuf::util::MessageDifferencer;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::Not;

constexpr char kWho[] = "zzplanted-participant";
constexpr char kNote[] = "zzplanted-note";
constexpr char kVisit[] = "zzplanted-visit";

class EraseTest : public CoreFixture {
 protected:
  EraseTest() {
    steward_.set_name("w.dunlin");
    steward_.set_role("data-steward");
    lead_.set_name("t.linnet");
    lead_.set_role("on-call-lead");
  }
  static v1::Event Of(v1::Event event, const std::string& participant = kWho) {
    event.set_participant(participant);
    return event;
  }
  // A course with a visit of a planted name, and an alert with a planted note,
  // closed.
  void Live() {
    const absl::Time now = clock_.Now();
    Submit(Of(Enrolled("en", now)));
    Submit(Of(Outcome("vo", now, kVisit, v1::VISIT_OUTCOME_KIND_ATTENDED)));
    first_ = Submit(Of(Phq9Total("q1", now, 12, 2)));
    Submit(Of(Phq9Total("q2", now + absl::Seconds(1), 14, 3)));
  }
  void CloseAll() {
    for (const v1::Alert& alert : All()) {
      if (!IsOpen(alert)) continue;
      const std::string id = alert.alert_id();
      EXPECT_TRUE(Work(absl::StrCat("close { outcome: 'no-action-needed' "
                                    "note: '",
                                    kNote, "' }"),
                       person_, id)
                      .ok());
      if (!IsOpen(Alert(id))) continue;
      EXPECT_TRUE(Work("confirm {}", lead_, id).ok());
      EXPECT_FALSE(IsOpen(Alert(id)));
    }
  }
  std::vector<v1::Alert> All() {
    return core_->AlertsAfter("", 0, 1000, SiteScope::All()).value();
  }
  absl::StatusOr<v1::Erasure> Erase(const std::string& reason = "asked to be",
                                    const std::string& who = kWho) {
    v1::EraseParticipantRequest request;
    request.set_participant(who);
    request.set_reason(reason);
    return core_->EraseParticipant(request, steward_);
  }
  v1::Burden Burden() {
    v1::GetBurdenRequest request;
    request.mutable_from()->set_seconds(
        absl::ToUnixSeconds(clock_.Now() - absl::Hours(48)));
    request.mutable_to()->set_seconds(
        absl::ToUnixSeconds(clock_.Now() + absl::Hours(48)));
    return core_->GetBurden(request, SiteScope::All()).value();
  }

  v1::Actor steward_;
  v1::Actor lead_;
  v1::SubmitResponse first_;
};

TEST_F(EraseTest, LeavesNoByteInTheFiles) {
  // Pages split and grow around what is planted.
  for (int i = 0; i < 600; ++i) {
    const std::string id = absl::StrCat((i * 7919) % 1000);
    ASSERT_TRUE(
        core_
            ->StageSubmit(Of(Phq9Total("a" + id, clock_.Now(), 12), "p" + id),
                          by_)
            .ok());
    if (i % 20 == 0) {
      const std::string mine = absl::StrCat("m", (i * 31) % 997);
      ASSERT_TRUE(
          core_->StageSubmit(Of(Confidence(mine, clock_.Now(), 50)), by_).ok());
    }
    ASSERT_TRUE(core_->Commit().ok());
  }
  Live();
  CloseAll();
  for (const char* planted : {kWho, kNote, kVisit}) {
    ASSERT_THAT(FilesWith(planted, folder_), Not(IsEmpty())) << planted;
  }
  // On record, waiting to be, and to be told of again within the hour.
  const Look page{"saw the participant's page", {"pebble-bay", kWho}};
  core_->NoteLook(person_, page);
  core_->RecordLooks();
  core_->NoteLook(person_, page);
  core_->NoteLook(lead_, page);
  const auto erasure = Erase();
  ASSERT_TRUE(erasure.ok()) << erasure.status();
  EXPECT_EQ(erasure->events(), 34);
  MoveTo(clock_.Now() + absl::Hours(2));
  AskDue();
  // At once, while the service runs, and after it has stopped.
  for (int i = 0; i < 2; ++i) {
    for (const char* planted : {kWho, kNote, kVisit}) {
      EXPECT_THAT(FilesWith(planted, folder_), IsEmpty()) << planted;
    }
    core_.reset();
  }
  Verification verification(nullptr);
  ASSERT_TRUE(VerifyFolder(folder_, verification).ok());
  EXPECT_TRUE(verification.ok());
}

// Entries that SQLite has moved when a page grew full stay behind where they
// were, and are not overwritten when they are deleted.
TEST_F(EraseTest, LeavesNoByteOfWhatHadBeenMovedEither) {
  const std::string folder = folder_ + "_moved";
  for (unsigned seed = 0; seed < 4; ++seed) {
    std::filesystem::remove_all(folder);
    auto store = OpenSqliteStore(folder).value();
    std::mt19937 random(seed);
    WriteBatch batch;
    for (int i = 1; i <= 4000; ++i) {
      StoredEvent& stored = batch.events.emplace_back();
      stored.sequence = i;
      stored.recorded = clock_.Now();
      stored.event = EventAt(absl::StrCat("e", i), clock_.Now());
      stored.event.set_participant(random() % 10 == 0
                                       ? "m-5000-zzmoved"
                                       : absl::StrCat("m-", random() % 10000));
      if (batch.events.size() < 100) continue;
      ASSERT_TRUE(store->Commit(batch).ok());
      batch = WriteBatch();
    }
    batch.erased = {{{"pebble-bay", "m-5000-zzmoved"}, "erased/1"}};
    ASSERT_TRUE(store->Commit(batch).ok());
    EXPECT_THAT(FilesWith("zzmoved", folder), IsEmpty()) << seed;
  }
  std::filesystem::remove_all(folder);
}

TEST_F(EraseTest, IsRefusedWhileAnAlertIsOpen) {
  Live();
  const auto refused = Erase();
  EXPECT_TRUE(absl::IsFailedPrecondition(refused.status()));
  EXPECT_THAT(std::string(refused.status().message()), HasSubstr("A-1"));
  CloseAll();
  EXPECT_TRUE(Erase().ok());
}

TEST_F(EraseTest, KeepsOnceForEverAndEveryCount) {
  Live();
  Submit(Of(Phq9Total("other", clock_.Now(), 12, 2), "p2"));
  CloseAll();
  const v1::Burden before = Burden();
  ASSERT_GT(before.alerts(), 1);
  ASSERT_GT(before.repeats(), 0);
  ASSERT_TRUE(Erase().ok());
  // Two who were erased are still two.
  ASSERT_TRUE(Erase("asked to be", "p2").ok());
  for (int i = 0; i < 2; ++i) {
    EXPECT_TRUE(MessageDifferencer::Equals(Burden(), before))
        << Burden().DebugString() << before.DebugString();
    // Whatever the content, for nothing is known of it any more.
    const v1::SubmitResponse again =
        Submit(Of(Phq9Total("q1", At("2027-01-04T10:00:00Z"), 3)));
    EXPECT_TRUE(again.repeated_submission());
    // Of another site it is another's, and must not be told that it is there.
    v1::Event elsewhere = Of(Phq9Total("q1", At("2027-01-04T10:00:00Z"), 3));
    elsewhere.set_site("elsewhere");
    EXPECT_TRUE(
        absl::IsAlreadyExists(core_->StageSubmit(elsewhere, by_).status()));
    EXPECT_EQ(again.sequence(), first_.sequence());
    EXPECT_EQ(again.recorded_time().seconds(),
              first_.recorded_time().seconds());
    EXPECT_EQ(again.alert_id(0), first_.alert_id(0));
    Start(ShippedConfiguration());
  }
}

TEST_F(EraseTest, SaysOnRecordThatItWasDoneAndNotOfWhom) {
  Live();
  CloseAll();
  ASSERT_TRUE(Erase("the participant's own wish").ok());
  core_.reset();
  EXPECT_THAT(FilesWith("participant erased", folder_), Not(IsEmpty()));
  EXPECT_THAT(FilesWith("the participant's own wish", folder_), Not(IsEmpty()));
  EXPECT_THAT(FilesWith("w.dunlin", folder_), Not(IsEmpty()));
}

TEST_F(EraseTest, WhateverReadsCopes) {
  Live();
  CloseAll();
  v1::Actor rules;
  rules.set_name("k.heron");
  rules.set_role("programme-lead");
  ASSERT_EQ(core_->EventsAfter("", 0, 100, rules)->events.size(), 4U);
  ASSERT_TRUE(Erase().ok());
  EXPECT_THAT(core_->EventsAfter("", 0, 100, rules)->events, IsEmpty());
  EXPECT_EQ(core_->EventsAfter("", 0, 100, rules)->total, 0);
  const v1::Alert alert = Alert("A-1");
  EXPECT_EQ(alert.participant(), "erased/1");
  EXPECT_EQ(alert.rule().rule(), "self-harm-positive");
  EXPECT_EQ(alert.status(), v1::ALERT_STATUS_COMPLETED);
  EXPECT_EQ(core_->ListAlerts({}, SiteScope::All())->alert_size(),
            static_cast<int>(All().size()));
  v1::ExplainAlertRequest why;
  why.set_alert_id("A-1");
  EXPECT_TRUE(absl::IsFailedPrecondition(
      core_->ExplainAlert(why, SiteScope::All()).status()));
  for (const char* action : {"reopen { reason: 'x' }", "note { note: 'x' }"}) {
    EXPECT_TRUE(absl::IsFailedPrecondition(Work(action, person_).status()));
  }
  for (const char* who : {kWho, ""}) {
    v1::GetParticipantRequest request;
    request.set_participant(who);
    EXPECT_TRUE(absl::IsNotFound(
        core_->GetParticipant(request, SiteScope::All()).status()));
    EXPECT_TRUE(absl::IsNotFound(Erase("again", who).status()));
  }
  EXPECT_FALSE(core_->broken());
  core_.reset();
  Verification verification(nullptr);
  ASSERT_TRUE(VerifyFolder(folder_, verification).ok());
  EXPECT_TRUE(verification.ok());
}

TEST_F(EraseTest, TheSameIdBeginsAnew) {
  Live();
  CloseAll();
  ASSERT_TRUE(Erase().ok());
  Submit(Of(Enrolled("en-2", clock_.Now())));
  const v1::SubmitResponse fresh =
      Submit(Of(Phq9Total("q3", clock_.Now(), 12, 1)));
  ASSERT_EQ(fresh.alert_id_size(), 1);
  EXPECT_EQ(Alert(fresh.alert_id(0)).occurrence_size(), 1);
  v1::GetParticipantRequest request;
  request.set_participant(kWho);
  EXPECT_EQ(core_->GetParticipant(request, SiteScope::All())->timeline_size(),
            2);
  CloseAll();
  ASSERT_TRUE(Erase().ok());
  EXPECT_NE(Alert(fresh.alert_id(0)).participant(), "erased/1");
}

TEST_F(EraseTest, NeedsARightAndAReasonThatNamesNobody) {
  Live();
  CloseAll();
  EXPECT_TRUE(absl::IsInvalidArgument(Erase("").status()));
  EXPECT_TRUE(absl::IsInvalidArgument(Erase(std::string(201, 'x')).status()));
  EXPECT_TRUE(absl::IsInvalidArgument(
      Erase(absl::StrCat(kWho, " asked for it")).status()));
  steward_ = person_;
  EXPECT_TRUE(absl::IsPermissionDenied(Erase().status()));
  EXPECT_EQ(Alert("A-1").participant(), kWho);
}

}  // namespace
}  // namespace turnstone
