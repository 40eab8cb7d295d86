// A version in shadow is asked what the one in force is asked, and never acts
// (BrokeShadow).
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "service/core/configuration.h"
#include "tests/core/core_fixture.h"
#include "tests/support/rule_changes.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class ShadowTest : public CoreFixture {
 protected:
  ShadowTest() {
    lead_.set_name("k.heron");
    lead_.set_role("programme-lead");
  }
  absl::StatusOr<v1::RuleVersion> Shadow(const std::string& digest,
                                         bool stop = false) {
    v1::ShadowVersionRequest request;
    request.set_digest(digest);
    request.set_stop(stop);
    request.set_reason("to see what it would do");
    return core_->ShadowVersion(request, {lead_, SiteScope::All()});
  }
  // Proposes it and puts it in shadow.
  void ShadowOf(const v1::Configuration& configuration) {
    ASSERT_TRUE(core_->Offer(configuration).ok());
    const auto version = Shadow(DigestOf(configuration));
    ASSERT_TRUE(version.ok()) << version.status();
    AskDue();
  }
  v1::ShadowPage Page() {
    return core_->ListShadow({}, SiteScope::All()).value_or(v1::ShadowPage());
  }
  // "rule event [alert]" of every verdict.
  std::vector<std::string> Verdicts() {
    std::vector<std::string> lines;
    const v1::ShadowPage page = Page();
    for (const v1::ShadowVerdict& verdict : page.verdict()) {
      std::string line = verdict.rule() + " " + verdict.occurrence().event_id();
      if (!verdict.alert_id().empty()) line += " " + verdict.alert_id();
      lines.push_back(line);
    }
    return lines;
  }
  // "rule event" of what only the version in force has raised.
  std::vector<std::string> Missing() {
    std::vector<std::string> lines;
    const v1::ShadowPage page = Page();
    for (const v1::MissingInShadow& missing : page.missing()) {
      lines.push_back(missing.rule() + " " + missing.occurrence().event_id());
    }
    return lines;
  }

  v1::Actor lead_;
};

TEST_F(ShadowTest, ItRaisesNothingAndTellsNobody) {
  ShadowOf(WithOverride("above-range", 16));
  const int64_t position = core_->position();
  Submit(Phq9Total("e1", clock_.Now(), 16));
  EXPECT_THAT(Alerts(), IsEmpty());
  EXPECT_EQ(core_->position(), position);
  EXPECT_EQ(core_->ListOutbox({}, SiteScope::All()).value().total(), 0);
  EXPECT_THAT(Verdicts(), ElementsAre("score-above-range e1"));
}

TEST_F(ShadowTest, WhatBothRaiseNamesTheAlert) {
  ShadowOf(WithOverride("above-range", 16));
  Submit(Phq9Total("e1", clock_.Now(), 22));
  EXPECT_THAT(Verdicts(), ElementsAre("score-above-range e1 A-1"));
  EXPECT_THAT(Missing(), IsEmpty());
}

TEST_F(ShadowTest, WhatItWouldNotRaiseIsMissing) {
  ShadowOf(WithOverride("above-range", 25));
  Submit(Phq9Total("e1", clock_.Now(), 22));
  EXPECT_THAT(Alerts(), ElementsAre("A-1 score-above-range"));
  EXPECT_THAT(Verdicts(), IsEmpty());
  EXPECT_THAT(Missing(), ElementsAre("score-above-range e1"));
}

TEST_F(ShadowTest, ItsQuestionsAreWaitedForThoughTheOtherHasNone) {
  v1::Configuration without = WithoutRule("visit-without-outcome");
  ASSERT_TRUE(core_->Activate(without).ok());
  ShadowOf(WithoutSignOfLife());
  Submit(
      Planned("plan", clock_.Now(), "visit-1", clock_.Now() + absl::Hours(1)));
  MoveTo(clock_.Now() + absl::Hours(24 * 4));
  EXPECT_THAT(Alerts(), IsEmpty());
  EXPECT_THAT(Verdicts(), ElementsAre("visit-without-outcome plan"));
}

TEST_F(ShadowTest, ItGoesOnAfterARestart) {
  ShadowOf(WithOverride("above-range", 16));
  Submit(Phq9Total("e1", clock_.Now(), 16));
  Start(std::nullopt);
  Submit(Phq9Total("e2", clock_.Now(), 17));
  EXPECT_THAT(Verdicts(),
              ElementsAre("score-above-range e1", "score-above-range e2"));
}

TEST_F(ShadowTest, EndsWhenTakenOutOrPutInForce) {
  const v1::Configuration lower = WithOverride("above-range", 16);
  ShadowOf(lower);
  EXPECT_TRUE(absl::IsFailedPrecondition(Shadow(DigestOf(lower)).status()));
  ASSERT_TRUE(Shadow(DigestOf(lower), /*stop=*/true).ok());
  Submit(Phq9Total("e1", clock_.Now(), 16));
  EXPECT_FALSE(Page().has_version());

  ASSERT_TRUE(Shadow(DigestOf(lower)).ok());
  ASSERT_TRUE(core_->Activate(lower).ok());
  EXPECT_FALSE(Page().has_version());
}

TEST_F(ShadowTest, OfTheSameRulesItAgreesVerdictForVerdict) {
  ShadowOf(WithoutSignOfLife());
  Submit(Phq9Total("e1", clock_.Now(), 22));
  Submit(
      Planned("plan", clock_.Now(), "visit-1", clock_.Now() + absl::Hours(1)));
  MoveTo(clock_.Now() + absl::Hours(24 * 8));
  // Late: it is asked about the past.
  Submit(Phq9Total("e0", clock_.Now() - absl::Hours(24 * 9), 8));
  MoveTo(clock_.Now() + absl::Hours(24 * 40));
  EXPECT_THAT(Missing(), IsEmpty());
  const v1::ShadowPage page = Page();
  EXPECT_GT(page.verdict_size(), 2);
  for (const v1::ShadowVerdict& verdict : page.verdict()) {
    EXPECT_NE(verdict.alert_id(), "") << verdict.rule();
  }
}

}  // namespace
}  // namespace turnstone
