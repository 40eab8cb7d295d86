// Source of every expectation: worked by hand from the rule as it is written in
// rules/packs/home-visits.textproto and the calendar of pebble-bay (Monday to
// Friday to 17:00, in winter UTC).
#include "rules/replay/replay.h"

#include <gmock/gmock.h>

#include "tests/replay/replay_fixture.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

TEST_F(ReplayTest, ThresholdMovedByOneChangesTheOneOnIt) {
  for (const int total : {19, 20, 21}) {
    Record(Of("p" + std::to_string(total),
              Phq9Total("form", At("2027-01-04T10:00:00Z"), total)));
  }
  const v1::Configuration before = OnlyRules({"score-above-range"});
  const Difference higher =
      Compare(before, WithNumber(before, "above-range", 21));
  EXPECT_THAT(Names(higher.lost),
              ElementsAre("p20 score-above-range p20-form"));
  EXPECT_THAT(higher.added, IsEmpty());
  EXPECT_THAT(higher.changed, IsEmpty());
  EXPECT_EQ(higher.rules.at("score-above-range").before, 2);
  EXPECT_EQ(higher.rules.at("score-above-range").after, 1);
  const Difference lower =
      Compare(before, WithNumber(before, "above-range", 19));
  EXPECT_THAT(Names(lower.added),
              ElementsAre("p19 score-above-range p19-form"));
  EXPECT_THAT(lower.lost, IsEmpty());
  // What a reader sees of it.
  EXPECT_EQ(lower.added[0].why,
            "The PHQ-9 total is 19 (moderately severe) on 4 Jan 2027, which is "
            "19 or more.");
  EXPECT_EQ(lower.events, 3);
  EXPECT_EQ(lower.participants, 3);
}

// Planned for Friday 8 January: asked at the end of Monday, or of Tuesday.
TEST_F(ReplayTest, OutcomeThatComesInLateIsNotThereYetWhenAsked) {
  const v1::Configuration before = OnlyRules({"visit-without-outcome"});
  const v1::Configuration after = WithNumber(before, "outcome-due", 2);
  const absl::Time visit = At("2027-01-08T10:00:00Z");
  Record(Planned("plan", At("2027-01-04T10:00:00Z"), "visit-1", visit));
  Record(Outcome("out", visit, "visit-1", v1::VISIT_OUTCOME_KIND_ATTENDED),
         At("2027-01-12T10:00:00Z"));
  Record(Confidence("practice", At("2027-01-15T10:00:00Z"), 90));
  const Difference difference = Compare(before, after);
  ASSERT_THAT(Names(difference.lost),
              ElementsAre("p1 visit-without-outcome plan"));
  EXPECT_EQ(difference.lost[0].asked, At("2027-01-11T17:00:00Z"));
  EXPECT_EQ(difference.lost[0].due, At("2027-01-11T17:00:00Z"));
  EXPECT_THAT(difference.added, IsEmpty());
}

// The same visit, without any outcome: a working day later, and neither new nor
// lost.
TEST_F(ReplayTest, AskedLaterIsTheSameReasonAtAnotherTime) {
  const v1::Configuration before = OnlyRules({"visit-without-outcome"});
  Record(Planned("plan", At("2027-01-04T10:00:00Z"), "visit-1",
                 At("2027-01-08T10:00:00Z")));
  const Difference difference =
      Compare(before, WithNumber(before, "outcome-due", 2),
              {absl::InfinitePast(), At("2027-01-20T00:00:00Z")});
  EXPECT_THAT(difference.added, IsEmpty());
  EXPECT_THAT(difference.lost, IsEmpty());
  ASSERT_EQ(difference.changed.size(), 1U);
  EXPECT_EQ(difference.changed[0].before.asked, At("2027-01-11T17:00:00Z"));
  EXPECT_EQ(difference.changed[0].after.asked, At("2027-01-12T17:00:00Z"));
}

// Missed on the 5th and the 19th; that the 12th was missed too comes in on the
// 20th. Two in a row: the 19th at once, the 12th on the 20th, the 19th not
// again. Three in a row: the 19th alone, on the 20th.
TEST_F(ReplayTest, LateFactHasTheLaterOnesAskedAgain) {
  const v1::Configuration before = OnlyRules({"missed-visits"});
  for (const char* day : {"05", "19"}) {
    Record(Outcome(std::string("on-") + day,
                   At(std::string("2027-01-") + day + "T10:00:00Z"),
                   std::string("visit-") + day,
                   v1::VISIT_OUTCOME_KIND_NO_ANSWER));
  }
  const absl::Time late = At("2027-01-20T10:00:00Z");
  Record(Outcome("on-12", At("2027-01-12T10:00:00Z"), "visit-12",
                 v1::VISIT_OUTCOME_KIND_NO_ANSWER),
         late);
  const Difference difference =
      Compare(before, WithNumber(before, "missed-in-a-row", 3));
  EXPECT_THAT(Names(difference.lost), ElementsAre("p1 missed-visits on-12"));
  EXPECT_EQ(difference.lost[0].asked, late);
  ASSERT_EQ(difference.changed.size(), 1U);
  EXPECT_EQ(difference.changed[0].before.event.event_id, "on-19");
  EXPECT_EQ(difference.changed[0].before.asked, At("2027-01-19T10:00:00Z"));
  EXPECT_EQ(difference.changed[0].after.asked, late);
  EXPECT_EQ(difference.rules.at("missed-visits").before, 2);
  EXPECT_EQ(difference.rules.at("missed-visits").after, 1);
}

// 20 points, mended to 19: above the range only before the correction, or, from
// 19 on, after it as well.
TEST_F(ReplayTest, CorrectedFormIsAskedAboutAnew) {
  Record(Phq9Total("form", At("2027-01-04T10:00:00Z"), 20));
  Record(Replaced("fix", At("2027-01-05T10:00:00Z"),
                  Phq9Total("form", At("2027-01-04T10:00:00Z"), 19)));
  const v1::Configuration before = OnlyRules({"score-above-range"});
  const Difference difference =
      Compare(before, WithNumber(before, "above-range", 19));
  ASSERT_THAT(Names(difference.added),
              ElementsAre("p1 score-above-range form"));
  EXPECT_EQ(difference.added[0].corrected_by, "urn:test fix");
  EXPECT_EQ(difference.added[0].asked, At("2027-01-05T10:00:00Z"));
  EXPECT_THAT(difference.lost, IsEmpty());
}

TEST_F(ReplayTest, SafetyRuleTakenOutIsNamed) {
  Record(Phq9Total("low", At("2027-01-04T10:00:00Z"), 8));
  Record(Phq9Total("positive", At("2027-01-05T10:00:00Z"), 8, 1));
  const Difference difference =
      Compare(OnlyRules({"self-harm-positive", "score-above-range"}),
              OnlyRules({"score-above-range"}));
  EXPECT_THAT(Names(LostSafety(difference)),
              ElementsAre("p1 self-harm-positive positive"));
  // A referral that is lost is none.
  EXPECT_THAT(
      LostSafety(Compare(OnlyRules({"score-above-range"}), OnlyRules({}))),
      IsEmpty());
}

TEST_F(ReplayTest, AnotherKindIsASafetyReasonLost) {
  Record(Phq9Total("positive", At("2027-01-05T10:00:00Z"), 8, 1));
  const v1::Configuration before = OnlyRules({"self-harm-positive"});
  v1::Configuration after = before;
  after.mutable_rule_set(0)->mutable_rule(0)->set_kind(v1::ALERT_KIND_COACHING);
  const Difference difference = Compare(before, after);
  EXPECT_EQ(difference.changed.size(), 1U);
  EXPECT_THAT(Names(LostSafety(difference)),
              ElementsAre("p1 self-harm-positive positive"));
}

TEST_F(ReplayTest, PriorityThatChangesIsToldWithBoth) {
  Record(Phq9Total("form", At("2027-01-04T10:00:00Z"), 24));
  const v1::Configuration before = OnlyRules({"score-above-range"});
  v1::Configuration after = before;
  after.mutable_rule_set(0)->mutable_rule(0)->set_priority(v1::PRIORITY_STAT);
  const Difference difference = Compare(before, after);
  ASSERT_EQ(difference.changed.size(), 1U);
  EXPECT_EQ(difference.changed[0].before.priority, v1::PRIORITY_ASAP);
  EXPECT_EQ(difference.changed[0].after.priority, v1::PRIORITY_STAT);
}

// Another title, another source: nothing that decides.
TEST_F(ReplayTest, OtherWordsChangeNothing) {
  Record(Phq9Total("form", At("2027-01-04T10:00:00Z"), 24));
  const v1::Configuration before = OnlyRules({"score-above-range"});
  v1::Configuration after = before;
  after.mutable_rule_set(0)->mutable_rule(0)->set_title("Refer");
  after.mutable_rule_set(0)->mutable_rule(0)->set_version(9);
  const Difference difference = Compare(before, after);
  EXPECT_THAT(difference.added, IsEmpty());
  EXPECT_THAT(difference.lost, IsEmpty());
  EXPECT_THAT(difference.changed, IsEmpty());
  EXPECT_EQ(difference.rules.at("score-above-range").after, 1);
}

// An instrument under another name: read by each side for itself.
TEST_F(ReplayTest, InstrumentsThatDifferAreReadByEachSideForItself) {
  Record(Phq9Total("form", At("2027-01-04T10:00:00Z"), 24));
  const v1::Configuration before = OnlyRules({"score-above-range"});
  v1::Configuration renamed = before;
  v1::Configuration taken_out = before;
  for (int i = before.instrument_size(); i-- > 0;) {
    if (before.instrument(i).id() != "phq-9") continue;
    renamed.mutable_instrument(i)->set_name("Nine questions");
    taken_out.mutable_instrument()->DeleteSubrange(i, 1);
  }
  const Difference same = Compare(before, renamed);
  EXPECT_THAT(same.added, IsEmpty());
  EXPECT_THAT(same.lost, IsEmpty());
  EXPECT_EQ(same.rules.at("score-above-range").before, 1);
  EXPECT_EQ(same.rules.at("score-above-range").after, 1);
  const Difference blind = Compare(before, taken_out);
  EXPECT_TRUE(taken_.ok());
  EXPECT_THAT(Names(blind.lost), ElementsAre("p1 score-above-range form"));
  EXPECT_EQ(blind.unread_before.events, 0);
  EXPECT_EQ(blind.unread_after.events, 1);
  EXPECT_THAT(blind.unread_after.first, testing::HasSubstr("not known here"));
  (void)Compare(taken_out, taken_out);
  EXPECT_FALSE(taken_.ok());
}

// Each is 6 above the start; the window takes in its first moment and not its
// last.
TEST_F(ReplayTest, WhatWasBeforeTheWindowIsKnownButNotCompared) {
  Record(Phq9Total("start", At("2027-01-04T10:00:00Z"), 10));
  Record(Phq9Total("early", At("2027-01-11T10:00:00Z"), 16));
  Record(Phq9Total("six", At("2027-01-18T10:00:00Z"), 16));
  Record(Phq9Total("late", At("2027-01-25T10:00:00Z"), 16));
  const v1::Configuration before = OnlyRules({"reliable-deterioration"});
  const Difference difference =
      Compare(before, OnlyRules({}),
              {At("2027-01-18T10:00:00Z"), At("2027-01-25T10:00:00Z")});
  EXPECT_THAT(Names(difference.lost),
              ElementsAre("p1 reliable-deterioration six"));
  EXPECT_EQ(difference.rules.at("reliable-deterioration").before, 1);
}

// Sunday 3 January belongs to the week from 28 December, Monday to the next; by
// the site's days, at UTC in winter.
TEST_F(ReplayTest, WeeksBeginOnMonday) {
  Record(Phq9Total("sunday", At("2027-01-03T23:59:00Z"), 24));
  Record(Phq9Total("monday", At("2027-01-04T00:00:00Z"), 24));
  Record(Phq9Total("saturday", At("2027-01-09T12:00:00Z"), 24, 1));
  const v1::Configuration rules =
      OnlyRules({"score-above-range", "self-harm-positive"});
  const Difference difference =
      Compare(rules, OnlyRules({"score-above-range"}));
  const auto& weeks = difference.weeks;
  ASSERT_EQ(weeks.size(), 2U);
  const auto& first = weeks.at(absl::CivilDay(2026, 12, 28));
  EXPECT_EQ(first.at(v1::ALERT_KIND_REFERRAL).before, 1);
  const auto& second = weeks.at(absl::CivilDay(2027, 1, 4));
  EXPECT_EQ(second.at(v1::ALERT_KIND_REFERRAL).before, 2);
  EXPECT_EQ(second.at(v1::ALERT_KIND_REFERRAL).after, 2);
  EXPECT_EQ(second.at(v1::ALERT_KIND_SAFETY).before, 1);
  EXPECT_EQ(second.at(v1::ALERT_KIND_SAFETY).after, 0);
}

}  // namespace
}  // namespace turnstone
