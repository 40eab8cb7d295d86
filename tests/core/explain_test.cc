// Why an alert exists, and why a rule says nothing: what was known then, by the
// rules of then, and what is otherwise now. Sources: explain.proto; the shipped
// rules, worked by hand.
#include <gmock/gmock.h>
#include <google/protobuf/util/message_differencer.h>
#include <gtest/gtest.h>

#include "rules/measure/proto_time.h"
#include "tests/core/core_fixture.h"

namespace turnstone {
namespace {

using google::protobuf::util::MessageDifferencer;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::SizeIs;

template <typename Outcomes>
v1::RuleOutcome OutcomeIn(const Outcomes& outcomes, const std::string& rule) {
  for (const v1::RuleOutcome& outcome : outcomes) {
    if (outcome.rule() == rule) return outcome;
  }
  return {};
}

v1::Configuration AboveRangeFrom(int points) {
  v1::Configuration configuration = WithoutSignOfLife();
  v1::RuleSet& rules = *configuration.mutable_rule_set(0);
  for (v1::Setting& setting : *rules.mutable_setting()) {
    if (setting.name() == "above-range") setting.set_value(points);
  }
  return configuration;
}

class ExplainTest : public CoreFixture {
 protected:
  v1::AlertExplanation Explain(const std::string& id, int occurrence = 0) {
    v1::ExplainAlertRequest request;
    request.set_alert_id(id);
    request.set_occurrence(occurrence);
    const auto explanation = core_->ExplainAlert(request, SiteScope::All());
    EXPECT_TRUE(explanation.ok()) << explanation.status();
    return explanation.value_or(v1::AlertExplanation());
  }
  // What the alert's own rule said then, which is what stands on the alert.
  v1::RuleOutcome OwnRule(const v1::AlertExplanation& explanation) {
    const v1::Alert& alert = explanation.alert();
    v1::RuleOutcome own = OutcomeIn(explanation.outcome(), alert.rule().rule());
    EXPECT_TRUE(MessageDifferencer::Equals(
        own.trace(), alert.occurrence(explanation.occurrence()).trace()))
        << explanation.DebugString();
    return own;
  }
  absl::StatusOr<v1::RuleExplanation> Ask(const std::string& rule,
                                          const std::string& who = "p1") {
    v1::ExplainRuleRequest request;
    request.set_participant(who);
    request.set_rule(rule);
    const auto asked = core_->AskRule(request, SiteScope::All());
    if (!asked.ok()) return asked.status();
    return ExplainSilence(*asked);
  }
  const absl::Time start_ = At("2027-01-04T10:00:00Z");
};

TEST_F(ExplainTest, EveryRuleSaysWhatItSaidOfTheEvent) {
  Submit(Phq9Total("form", start_, 22, 2));
  ASSERT_THAT(Alerts(), SizeIs(2));
  for (const char* const id : {"A-1", "A-2"}) {
    const v1::AlertExplanation explanation = Explain(id);
    EXPECT_EQ(OwnRule(explanation).outcome(), v1::OUTCOME_RAISED);
    EXPECT_THAT(explanation.event(), HasSubstr("PHQ-9 22 (severe)"));
    EXPECT_EQ(OutcomeIn(explanation.outcome(), "score-below-range").outcome(),
              v1::OUTCOME_DID_NOT_RAISE);
    EXPECT_EQ(
        OutcomeIn(explanation.outcome(), "self-harm-follow-up-due").outcome(),
        v1::OUTCOME_NOT_YET);
    EXPECT_EQ(OutcomeIn(explanation.outcome(), "missed-visits").outcome(),
              v1::OUTCOME_NOT_ASKED);
    EXPECT_THAT(explanation.outcome_now(), IsEmpty());
  }
}

TEST_F(ExplainTest, TheRulesOfThenSpeakThoughOthersAreInForce) {
  Submit(Phq9Total("form", start_, 22));
  ASSERT_TRUE(core_->Activate(AboveRangeFrom(24)).ok());
  const v1::AlertExplanation explanation = Explain("A-1");
  EXPECT_EQ(OwnRule(explanation).outcome(), v1::OUTCOME_RAISED);
  ASSERT_THAT(explanation.outcome_now(), SizeIs(1));
  EXPECT_EQ(explanation.outcome_now(0).rule(), "score-above-range");
  EXPECT_EQ(explanation.outcome_now(0).outcome(), v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_THAT(explanation.outcome_now(0).why(), HasSubstr("24"));
}

TEST_F(ExplainTest, ARepeatIsExplainedByTheRulesThatRaisedIt) {
  Submit(Phq9Total("first", start_, 22));
  ASSERT_TRUE(core_->Activate(AboveRangeFrom(24)).ok());
  clock_.MoveTo(start_ + absl::Hours(24));
  Submit(Phq9Total("second", clock_.Now(), 24));
  ASSERT_EQ(Alert("A-1").occurrence_size(), 2);
  EXPECT_THAT(OwnRule(Explain("A-1", 0)).why(), HasSubstr("20 or more"));
  EXPECT_THAT(OwnRule(Explain("A-1", 1)).why(), HasSubstr("24 or more"));
}

TEST_F(ExplainTest, ARuleThatIsGoneSaysSo) {
  Submit(Phq9Total("form", start_, 22));
  v1::Configuration without = WithoutSignOfLife();
  auto& rules = *without.mutable_rule_set(0)->mutable_rule();
  rules.erase(std::find_if(rules.begin(), rules.end(), [](const auto& rule) {
    return rule.id() == "score-above-range";
  }));
  ASSERT_TRUE(core_->Activate(without).ok());
  const v1::AlertExplanation explanation = Explain("A-1");
  EXPECT_EQ(OwnRule(explanation).outcome(), v1::OUTCOME_RAISED);
  ASSERT_THAT(explanation.outcome_now(), SizeIs(1));
  EXPECT_EQ(explanation.outcome_now(0).outcome(), v1::OUTCOME_NOT_ASKED);
  EXPECT_THAT(explanation.outcome_now(0).why(),
              HasSubstr("no longer in force"));
}

TEST_F(ExplainTest, WhatCameToBeKnownLaterIsToldApart) {
  Submit(Phq9Total("form", start_, 22));
  clock_.MoveTo(start_ + absl::Hours(1));
  Submit(Replaced("x", clock_.Now(), Phq9Total("form", start_, 12)));
  const v1::AlertExplanation explanation = Explain("A-1");
  EXPECT_EQ(OwnRule(explanation).outcome(), v1::OUTCOME_RAISED);
  EXPECT_THAT(explanation.event(), HasSubstr("PHQ-9 22"));
  EXPECT_EQ(OutcomeIn(explanation.outcome_now(), "score-above-range").outcome(),
            v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_EQ(OutcomeIn(explanation.outcome_now(), "score-in-range-and-willing")
                .outcome(),
            v1::OUTCOME_WAITS);
}

TEST_F(ExplainTest, AWithdrawnEventIsAskedNothing) {
  const v1::Event form = Phq9Total("form", start_, 22);
  Submit(form);
  Submit(Withdrawn("x", start_, form));
  const v1::AlertExplanation explanation = Explain("A-1");
  EXPECT_EQ(OwnRule(explanation).outcome(), v1::OUTCOME_RAISED);
  const v1::RuleOutcome now =
      OutcomeIn(explanation.outcome_now(), "score-above-range");
  EXPECT_EQ(now.outcome(), v1::OUTCOME_NOT_ASKED);
  EXPECT_THAT(now.why(), HasSubstr("withdrew"));
  // Not to be raised, in whatever way, is nothing new.
  EXPECT_EQ(OutcomeIn(explanation.outcome_now(), "score-below-range").rule(),
            "");
}

// The clock stands still: all three are accepted at one moment.
TEST_F(ExplainTest, WhatWasAcceptedAtTheSameMomentButLaterWasNotKnown) {
  Submit(Phq9Total("form", start_, 22));
  Submit(Replaced("x1", start_, Phq9Total("form", start_, 23)));
  Submit(Replaced("x2", start_, Phq9Total("form", start_, 4)));
  EXPECT_THAT(OwnRule(Explain("A-1", 0)).why(), HasSubstr("total is 22"));
  EXPECT_THAT(OwnRule(Explain("A-1", 1)).why(), HasSubstr("total is 23"));
}

// Of a wait: what was known by its end, not what was dated later.
TEST_F(ExplainTest, AnAlertRaisedByTimeSeesWhatWasKnownAtItsTime) {
  Submit(Planned("plan", start_, "visit-1", start_));
  MoveTo(At("2027-01-06T09:00:00Z"));
  Submit(
      Outcome("out", clock_.Now(), "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED));
  ASSERT_EQ(Alert("A-1").rule().rule(), "visit-without-outcome");
  const v1::RuleOutcome own = OwnRule(Explain("A-1"));
  EXPECT_EQ(own.outcome(), v1::OUTCOME_RAISED);
  EXPECT_EQ(FromProto(own.due()), At("2027-01-05T17:00:00Z"));
}

TEST_F(ExplainTest, IsTheSameAfterARestart) {
  Submit(Phq9Total("form", start_, 22));
  ASSERT_TRUE(core_->Activate(AboveRangeFrom(24)).ok());
  const v1::AlertExplanation before = Explain("A-1");
  Start(AboveRangeFrom(24));
  EXPECT_TRUE(MessageDifferencer::Equals(Explain("A-1"), before));
}

TEST_F(ExplainTest, WhatThereIsNotIsNamedWithWhatThereIs) {
  Submit(Phq9Total("form", start_, 22));
  const auto explain = [this](const std::string& id, int occurrence) {
    v1::ExplainAlertRequest request;
    request.set_alert_id(id);
    request.set_occurrence(occurrence);
    return core_->ExplainAlert(request, SiteScope::All()).status();
  };
  EXPECT_TRUE(absl::IsNotFound(explain("A-9", 0)));
  for (const int occurrence : {-1, 1}) {
    const absl::Status status = explain("A-1", occurrence);
    EXPECT_TRUE(absl::IsNotFound(status)) << status;
    EXPECT_THAT(status.ToString(), HasSubstr("has 1 reason; send 0"));
  }
  const absl::Status rule = Ask("score-above-rage").status();
  EXPECT_TRUE(absl::IsNotFound(rule)) << rule;
  EXPECT_THAT(rule.ToString(), HasSubstr("mean \"score-above-range\"?"));
  const absl::Status who = Ask("score-above-range", "nobody").status();
  EXPECT_TRUE(absl::IsNotFound(who)) << who;
  EXPECT_THAT(who.ToString(), HasSubstr("nothing is known of \"nobody\""));
}

TEST_F(ExplainTest, ASilentRuleSaysWhatKeptItSilent) {
  Submit(Phq9Total("old", start_ - absl::Hours(1), 12));
  Submit(Phq9Total("form", start_, 19));
  const v1::RuleExplanation silent = *Ask("score-above-range");
  EXPECT_EQ(silent.site(), "pebble-bay");
  EXPECT_EQ(silent.participant(), "p1");
  EXPECT_EQ(silent.time_zone(), "Europe/Dublin");
  EXPECT_THAT(silent.caution(), HasSubstr("In immediate danger"));
  EXPECT_THAT(silent.event(), HasSubstr("PHQ-9 19"));
  EXPECT_EQ(FromProto(silent.event_time()), start_);
  EXPECT_EQ(silent.outcome().outcome(), v1::OUTCOME_DID_NOT_RAISE);
  EXPECT_EQ(silent.outcome().trace().truth(), v1::TRUTH_FALSE);
  EXPECT_THAT(silent.asks(), HasSubstr("asked when a PHQ-9 comes in"));
  EXPECT_THAT(silent.asks(), HasSubstr("raised when the PHQ-9 total is 20"));
  EXPECT_EQ(silent.alert_id(), "");
  ASSERT_THAT(silent.change(), SizeIs(1));
  EXPECT_THAT(silent.why_then(), HasSubstr("total is 20"));
}

TEST_F(ExplainTest, ARuleThatSpokeNamesTheAlert) {
  Submit(Phq9Total("form", start_, 22));
  const v1::RuleExplanation raised = *Ask("score-above-range");
  EXPECT_EQ(raised.outcome().outcome(), v1::OUTCOME_RAISED);
  EXPECT_EQ(raised.alert_id(), "A-1");
  EXPECT_THAT(raised.change(), IsEmpty());
}

// What is on record is never decided anew (service.proto, ActivateVersion).
TEST_F(ExplainTest, ARuleChangedSinceRaisesWithoutAnAlert) {
  Submit(Phq9Total("form", start_, 19));
  ASSERT_TRUE(core_->Activate(AboveRangeFrom(15)).ok());
  const v1::RuleExplanation now = *Ask("score-above-range");
  EXPECT_EQ(now.outcome().outcome(), v1::OUTCOME_RAISED);
  EXPECT_EQ(now.alert_id(), "");
}

TEST_F(ExplainTest, ARuleThatWasNeverAskedSaysWhatItIsAskedAbout) {
  Submit(Phq9Total("form", start_, 12));
  const v1::RuleExplanation never = *Ask("low-practice-confidence");
  EXPECT_EQ(never.outcome().outcome(), v1::OUTCOME_NOT_ASKED);
  EXPECT_EQ(never.event(), "");
  EXPECT_FALSE(never.has_event_time());
  EXPECT_THAT(never.outcome().why(), HasSubstr("practice report"));
}

TEST_F(ExplainTest, ARuleToBeAskedLaterSaysWhatItWouldSayNow) {
  Submit(Planned("plan", start_, "visit-1", start_));
  const v1::RuleExplanation later = *Ask("visit-without-outcome");
  EXPECT_EQ(later.outcome().outcome(), v1::OUTCOME_NOT_YET);
  EXPECT_EQ(FromProto(later.outcome().due()), At("2027-01-05T17:00:00Z"));
  EXPECT_THAT(later.outcome().why(), HasSubstr("asked now it would raise"));
  EXPECT_EQ(later.outcome().trace().truth(), v1::TRUTH_TRUE);
  Submit(Outcome("out", start_ + absl::Minutes(1), "visit-1",
                 v1::VISIT_OUTCOME_KIND_ATTENDED));
  clock_.MoveTo(start_ + absl::Hours(1));
  EXPECT_THAT(Ask("visit-without-outcome")->outcome().why(),
              HasSubstr("asked now it would not raise"));
}

TEST_F(ExplainTest, ARuleThatWaitsSaysUntilWhen) {
  Submit(Phq9Total("form", start_, 12));
  const v1::RuleExplanation waits = *Ask("score-in-range-and-willing");
  EXPECT_EQ(waits.outcome().outcome(), v1::OUTCOME_WAITS);
  EXPECT_EQ(FromProto(waits.outcome().due()), At("2027-01-06T17:00:00Z"));
}

// The steps are counted from the form as corrected.
TEST_F(ExplainTest, WhatItWouldHaveTakenStartsFromTheCorrectedForm) {
  Submit(Phq9Total("form", start_, 4));
  Submit(Replaced("x", start_, Phq9Total("form", start_, 19)));
  const v1::RuleExplanation silent = *Ask("score-above-range");
  EXPECT_THAT(silent.change(), SizeIs(1));
  EXPECT_THAT(silent.why_then(), HasSubstr("total is 20"));
}

}  // namespace
}  // namespace turnstone
