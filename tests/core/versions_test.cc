// How a version of the rules comes into force, and who may put it there.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "service/core/configuration.h"
#include "service/core/what_decides.h"
#include "tests/core/core_fixture.h"
#include "tests/support/rule_changes.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

class VersionsTest : public CoreFixture {
 protected:
  VersionsTest() {
    lead_.set_name("k.heron");
    lead_.set_role("programme-lead");
    second_.set_name("j.alder");
    second_.set_role("supervisor");
  }
  // Offers it and returns its digest.
  std::string Propose(const v1::Configuration& configuration) {
    const auto offered = core_->Offer(configuration);
    EXPECT_TRUE(offered.ok()) << offered.status();
    EXPECT_EQ(offered.value_or(Core::Offered::kAsBefore),
              Core::Offered::kProposed);
    return DigestOf(configuration);
  }
  absl::StatusOr<v1::RuleVersion> Activate(const std::string& digest,
                                           const v1::Actor& by) {
    v1::ActivateVersionRequest request;
    request.set_digest(digest);
    request.set_reason("agreed on in the team meeting");
    return core_->ActivateVersion(request, "all proved",
                                  {by, SiteScope::All()});
  }
  absl::StatusOr<v1::RuleVersion> Confirm(const std::string& digest,
                                          const v1::Actor& by) {
    v1::ConfirmVersionRequest request;
    request.set_digest(digest);
    request.set_reason("looked at it with the lead");
    return core_->ConfirmVersion(request, {by, SiteScope::All()});
  }
  // "STATUS: what by whom, what by whom" of every version, in the order shown.
  std::vector<std::string> Versions() {
    std::vector<std::string> lines;
    const v1::VersionList list =
        core_->ListVersions({}).value_or(v1::VersionList());
    for (const v1::RuleVersion& version : list.version()) {
      std::string line = v1::VersionStatus_Name(version.status()) + ":";
      for (const v1::VersionChange& change : version.history()) {
        line += " " + change.what() + " by " + change.by().name() + ",";
      }
      line.pop_back();
      lines.push_back(line.substr(std::string("VERSION_STATUS_").size()));
    }
    return lines;
  }

  v1::Actor lead_;
  v1::Actor second_;
};

TEST_F(VersionsTest, TheFirstOneIsPutInForceByTheService) {
  EXPECT_THAT(Versions(), ElementsAre("IN_FORCE: in force by turnstoned"));
  const v1::VersionList list = core_->ListVersions({}).value();
  EXPECT_EQ(list.version(0).digest(), DigestOf(WithoutSignOfLife()));
  EXPECT_THAT(list.version(0).rule_set(), ElementsAre("home-visits 2"));
}

TEST_F(VersionsTest, WhatDecidesAlikeComesIntoForceAtOnce) {
  v1::Configuration next = WithoutSignOfLife();
  next.mutable_site(0)->set_version(99);
  next.mutable_site(0)->mutable_protocol(0)->set_text("New words.");
  const auto offered = core_->Offer(next);
  ASSERT_TRUE(offered.ok()) << offered.status();
  EXPECT_EQ(*offered, Core::Offered::kInForce);
  EXPECT_EQ(DigestOf(core_->configuration()), DigestOf(next));
  EXPECT_THAT(Versions(),
              ElementsAre("IN_FORCE: in force by turnstoned",
                          "RETIRED: in force by turnstoned, retired by "
                          "turnstoned"));
}

TEST_F(VersionsTest, WhatDecidesOtherwiseIsOnlyProposed) {
  const v1::Configuration lower = WithOverride("above-range", 16);
  Propose(lower);
  Submit(Phq9Total("e1", clock_.Now(), 16));
  EXPECT_THAT(Alerts(), IsEmpty());
  // The files are the same after a restart, and still only proposed.
  Start(lower);
  Submit(Phq9Total("e2", clock_.Now(), 16));
  EXPECT_THAT(Alerts(), IsEmpty());
  EXPECT_THAT(Versions(), ElementsAre("IN_FORCE: in force by turnstoned",
                                      "PROPOSED: proposed by turnstoned"));
}

TEST_F(VersionsTest, ANewerProposalTakesThePlaceOfAnOlderOne) {
  Propose(WithOverride("above-range", 16));
  clock_.MoveTo(clock_.Now() + absl::Hours(1));
  Propose(WithOverride("above-range", 17));
  EXPECT_THAT(Versions(),
              ElementsAre("IN_FORCE: in force by turnstoned",
                          "PROPOSED: proposed by turnstoned",
                          "REPLACED: proposed by turnstoned, replaced by "
                          "turnstoned"));
}

TEST_F(VersionsTest, TheLeadPutsItInForceAndNothingPastIsDecidedAnew) {
  Submit(Phq9Total("e1", clock_.Now(), 16));
  v1::Event higher = Phq9Total("e2", clock_.Now(), 22);
  higher.set_participant("p-800");
  Submit(higher);
  const std::string before = Alert("A-1").rule().configuration();
  const std::string digest = Propose(WithOverride("above-range", 16));
  const auto version = Activate(digest, lead_);
  ASSERT_TRUE(version.ok()) << version.status();
  EXPECT_EQ(version->status(), v1::VERSION_STATUS_IN_FORCE);
  const v1::VersionChange& change =
      version->history(version->history_size() - 1);
  EXPECT_EQ(change.by().name(), "k.heron");
  EXPECT_EQ(change.reason(), "agreed on in the team meeting");
  EXPECT_EQ(change.proof(), "all proved");
  AskDue();
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
  EXPECT_EQ(Alert("A-1").rule().configuration(), before);
  EXPECT_EQ(Alert("A-1").occurrence_size(), 1);
  v1::Event other = Phq9Total("e3", clock_.Now(), 16);
  other.set_participant("p-900");
  Submit(other);
  EXPECT_EQ(Alert("A-2").rule().configuration(), digest);
}

TEST_F(VersionsTest, ItStaysInForceOverARestart) {
  const std::string digest = Propose(WithOverride("above-range", 16));
  ASSERT_TRUE(Activate(digest, lead_).ok());
  // The files still hold the first one: now that is what is proposed.
  Start(WithoutSignOfLife());
  EXPECT_EQ(DigestOf(core_->configuration()), digest);
  EXPECT_THAT(Versions(),
              ElementsAre(HasSubstr("activated by k.heron"),
                          HasSubstr("PROPOSED: in force by turnstoned")));
}

TEST_F(VersionsTest, OnlyWhoMayPutsRulesInForceAndSaysWhy) {
  const std::string digest = Propose(WithOverride("above-range", 16));
  const auto denied = Activate(digest, person_);
  EXPECT_TRUE(absl::IsPermissionDenied(denied.status())) << denied.status();
  EXPECT_THAT(std::string(denied.status().message()),
              HasSubstr("may not put rules in force; these may: supervisor, "
                        "programme-lead"));
  v1::ActivateVersionRequest silent;
  silent.set_digest(digest);
  EXPECT_TRUE(absl::IsInvalidArgument(
      core_->ActivateVersion(silent, "", {lead_, SiteScope::All()}).status()));
  EXPECT_EQ(DigestOf(core_->configuration()), DigestOf(WithoutSignOfLife()));
}

TEST_F(VersionsTest, DigestMayBeShortButMustNameOne) {
  const std::string digest = Propose(WithOverride("above-range", 16));
  EXPECT_TRUE(
      absl::IsInvalidArgument(Activate(digest.substr(0, 5), lead_).status()));
  EXPECT_TRUE(absl::IsNotFound(Activate("zzzzzzzz", lead_).status()));
  EXPECT_TRUE(Activate(digest.substr(0, 8), lead_).ok());
}

TEST_F(VersionsTest, WordsNameTheOneInForceAndTheOneProposed) {
  v1::GetVersionRequest request;
  request.set_digest("proposed");
  EXPECT_TRUE(absl::IsNotFound(core_->GetVersion(request).status()));
  const v1::Configuration lower = WithOverride("above-range", 16);
  const std::string digest = Propose(lower);
  const auto proposed = core_->GetVersion(request);
  ASSERT_TRUE(proposed.ok()) << proposed.status();
  EXPECT_EQ(proposed->version().digest(), digest);
  EXPECT_EQ(DigestOf(proposed->configuration()), digest);
  request.set_digest("in-force");
  EXPECT_EQ(core_->GetVersion(request)->version().digest(),
            DigestOf(WithoutSignOfLife()));
}

TEST_F(VersionsTest, FewerSafetyAlertsNeedASecondPerson) {
  const std::string digest = Propose(WithoutRule("self-harm-unanswered"));
  const auto awaits = Activate(digest, lead_);
  ASSERT_TRUE(awaits.ok()) << awaits.status();
  EXPECT_EQ(awaits->status(), v1::VERSION_STATUS_AWAITS_CONFIRMATION);
  EXPECT_THAT(awaits->fewer_safety(),
              ElementsAre("pebble-bay: the safety rule self-harm-unanswered is "
                          "gone"));
  // Not in force yet, a restart in between or not.
  Start(WithoutRule("self-harm-unanswered"));
  Submit(Phq9("e1", clock_.Now(), {1, 1, 1, 1, 1, 1, 1, 1, std::nullopt}));
  EXPECT_THAT(Alerts(), testing::Contains("A-1 self-harm-unanswered"));
  EXPECT_TRUE(absl::IsFailedPrecondition(Activate(digest, second_).status()));
  EXPECT_TRUE(absl::IsPermissionDenied(Confirm(digest, lead_).status()));
  EXPECT_TRUE(absl::IsPermissionDenied(Confirm(digest, person_).status()));
  const auto confirmed = Confirm(digest, second_);
  ASSERT_TRUE(confirmed.ok()) << confirmed.status();
  EXPECT_EQ(confirmed->status(), v1::VERSION_STATUS_IN_FORCE);
  EXPECT_EQ(DigestOf(core_->configuration()), digest);
  EXPECT_TRUE(absl::IsFailedPrecondition(Confirm(digest, second_).status()));
}

TEST_F(VersionsTest, ProtocolsPeopleAndCalendarsDoNotDecide) {
  const v1::Configuration one = WithoutSignOfLife();
  v1::Configuration other = one;
  v1::SiteConfig& site = *other.mutable_site(0);
  site.set_name("Other");
  site.mutable_calendar()->add_holiday("2027-03-17");
  site.mutable_person(0)->set_id("somebody.else");
  site.clear_ladder();
  EXPECT_TRUE(DecideAlike(one, other));
  EXPECT_THAT(SitesThatDiffer(one, other), IsEmpty());
  site.set_planned_visits(6);
  EXPECT_FALSE(DecideAlike(one, other));
  EXPECT_THAT(SitesThatDiffer(one, other), ElementsAre("pebble-bay"));
  EXPECT_FALSE(DecideAlike(one, WithOverride("above-range", 16)));
  EXPECT_FALSE(DecideAlike(one, WithoutRule("missed-visits")));
}

}  // namespace
}  // namespace turnstone
