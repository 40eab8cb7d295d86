// Who looked at what is on record, and nobody is kept from looking. Source:
// what service/core/looks.h promises.
#include <absl/strings/str_cat.h>
#include <gmock/gmock.h>

#include "service/core/commit_round.h"
#include "service/core/verify_record.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class LooksTest : public CoreFixture {
 protected:
  LooksTest() {
    Submit(Phq9Total("q1", clock_.Now(), 12, 2));
    // Nothing is due of itself then.
    AskDue();
    whom_ = {Alert("A-1").site(), Alert("A-1").participant()};
  }
  void LookAtPage() {
    core_->NoteLook(person_, {"saw the participant's page", whom_});
  }
  // "r.sorrel: alert received A-1" for each.
  std::vector<std::string> Listed() {
    v1::ListDisclosuresRequest request;
    request.set_site(whom_.site);
    request.set_participant(whom_.participant);
    std::vector<std::string> lines;
    const v1::Disclosures listed =
        core_->ListDisclosures(request, SiteScope::All()).value();
    for (const v1::Disclosure& one : listed.disclosure()) {
      std::string line = absl::StrCat(one.by().name(), ": ", one.what());
      for (const std::string& more : {one.alert_id(), one.detail()}) {
        if (!more.empty()) absl::StrAppend(&line, " ", more);
      }
      lines.push_back(line);
    }
    return lines;
  }
  // Only what is on disk counts.
  std::vector<std::string> ListedAfterACrash() {
    Start(std::nullopt);
    return Listed();
  }
  bool Verifies() {
    core_.reset();
    Verification verification(nullptr);
    EXPECT_TRUE(VerifyFolder(folder_, verification).ok());
    return verification.ok();
  }

  ParticipantKey whom_;
  const std::string page_ = "r.sorrel: saw the participant's page";
};

TEST_F(LooksTest, AreListedAtOnce) {
  EXPECT_THAT(Listed(), IsEmpty());
  LookAtPage();
  core_->NoteLook(person_, {"saw the alert", whom_, "A-1"});
  core_->NoteLook(person_, {"saw the alert", {whom_.site, "p2"}, "A-2"});
  EXPECT_THAT(Listed(), ElementsAre(page_, "r.sorrel: saw the alert A-1"));
}

TEST_F(LooksTest, SoIsWorkOnAnAlert) {
  ASSERT_TRUE(Work("receive { note: 'ringing' }", person_).ok());
  EXPECT_THAT(Listed(), ElementsAre("r.sorrel: alert received A-1"));
}

TEST_F(LooksTest, AreOnDiskWithinASecond) {
  LookAtPage();
  clock_.MoveTo(clock_.Now() + absl::Seconds(1));
  AskDue();
  EXPECT_THAT(ListedAfterACrash(), ElementsAre(page_));
}

TEST_F(LooksTest, AreOnDiskWithTheNextChange) {
  LookAtPage();
  Submit(Phq9Total("q2", clock_.Now(), 3));
  EXPECT_THAT(ListedAfterACrash(), ElementsAre(page_));
}

TEST_F(LooksTest, AreOnDiskOnceNobodyWaits) {
  ChangeHub hub;
  CommitRound round(*core_, hub);
  round.Begin();
  LookAtPage();
  round.Do({});
  EXPECT_THAT(ListedAfterACrash(), ElementsAre(page_));
}

// Not more than that may go, and no read waits for a sync.
TEST_F(LooksTest, OfTheLastSecondMayGoInACrash) {
  LookAtPage();
  AskDue();
  EXPECT_THAT(ListedAfterACrash(), IsEmpty());
}

TEST_F(LooksTest, AThousandAreNotKeptWaiting) {
  for (int i = 0; i < 1000; ++i) {
    core_->NoteLook(person_, {"saw the alert", whom_, absl::StrCat("A-", i)});
  }
  AskDue();
  EXPECT_EQ(ListedAfterACrash().size(), 1000U);
}

TEST_F(LooksTest, TheSameAgainIsCountedAtTheEndOfTheHour) {
  LookAtPage();
  for (int i = 0; i < 3; ++i) {
    clock_.MoveTo(clock_.Now() + absl::Minutes(10));
    AskDue();
    LookAtPage();
  }
  EXPECT_THAT(Listed(), ElementsAre(page_));
  MoveTo(clock_.Now() + absl::Minutes(31));
  AskDue();
  EXPECT_THAT(
      ListedAfterACrash(),
      ElementsAre(page_, page_ + " 3 more times, the last at 2027-01-04 "
                                 "10:30:00 UTC"));
  // The next hour begins with the next look.
  LookAtPage();
  EXPECT_EQ(Listed().size(), 3U);
  EXPECT_TRUE(Verifies());
}

TEST_F(LooksTest, OfAnotherPersonOrRoleAreLooksOfTheirOwn) {
  LookAtPage();
  person_.set_role("on-call-lead");
  LookAtPage();
  person_.set_name("t.linnet");
  LookAtPage();
  EXPECT_EQ(Listed().size(), 3U);
}

TEST_F(LooksTest, NobodyIsToldOfAParticipantWhoIsNotKnown) {
  whom_.participant = "nobody";
  v1::ListDisclosuresRequest request;
  request.set_participant("nobody");
  EXPECT_TRUE(absl::IsNotFound(
      core_->ListDisclosures(request, SiteScope::All()).status()));
}

TEST(LooksUnit, BeyondWhatFitsAreCounted) {
  Looks looks;
  const absl::Time now = At("2027-01-04T10:00:00Z");
  const v1::Actor by;
  for (size_t i = 0; i < Looks::kMost + 7; ++i) {
    looks.Note(by, {"saw", {"s", absl::StrCat(i)}}, now);
  }
  const std::vector<AuditRecord> records = looks.Records(now);
  ASSERT_EQ(records.size(), Looks::kMost + 1);
  EXPECT_EQ(records.back().action, "looks not recorded");
  EXPECT_EQ(records.back().detail, "7: there was no room");
  looks.Recorded(now);
  EXPECT_THAT(looks.Records(now), IsEmpty());
  EXPECT_FALSE(looks.Due(now));
}

TEST(LooksUnit, OfAParticipantAreForgotten) {
  Looks looks;
  const absl::Time now = At("2027-01-04T10:00:00Z");
  const v1::Actor by;
  looks.Note(by, {"saw", {"s", "a"}}, now);
  looks.Recorded(now);
  looks.Note(by, {"saw", {"s", "a"}}, now);
  looks.Note(by, {"saw", {"s", "b"}}, now);
  looks.Note(by, {"read", {"s", "a"}}, now);
  looks.Forget({"s", "a"});
  for (const absl::Duration later : {absl::ZeroDuration(), absl::Hours(2)}) {
    const std::vector<AuditRecord> records = looks.Records(now + later);
    ASSERT_EQ(records.size(), 1U);
    EXPECT_EQ(records[0].about.participant, "b");
  }
}

// Whoever has much read to them cannot keep others' looks off the record.
TEST(LooksRoomTest, WhatIsOnRecordMakesRoomForWhatIsNot) {
  Looks looks;
  v1::Actor by;
  by.set_name("r.sorrel");
  const absl::Time now = absl::UnixEpoch();
  const auto look = [&](size_t number) {
    looks.Note(by, {"saw the alert", {"s", "p"}, absl::StrCat("A-", number)},
               now);
  };
  for (size_t number = 0; number < Looks::kMost; ++number) look(number);
  look(0);
  EXPECT_EQ(looks.Records(now).size(), Looks::kMost);
  looks.Recorded(now);
  look(Looks::kMost);
  const std::vector<AuditRecord> records = looks.Records(now);
  ASSERT_EQ(records.size(), 2u);
  EXPECT_EQ(records[0].subject, "A-0");
  EXPECT_THAT(records[0].detail, testing::HasSubstr("1 more time"));
  EXPECT_EQ(records[1].subject, absl::StrCat("A-", Looks::kMost));
}

}  // namespace
}  // namespace turnstone
