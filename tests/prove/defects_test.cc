// Rules with one defect each, and the smallest case it shows in. Every case is
// worked out by hand from the order that rules/prove/form_groups.h states and
// from the shipped numbers; no outside source.
#include <gmock/gmock.h>
#include <google/protobuf/text_format.h>
#include <gtest/gtest.h>

#include "tests/prove/proving.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

v1::Condition ConditionOf(const std::string& text) {
  v1::Condition condition;
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(text, &condition))
      << text;
  return condition;
}

void Remove(const std::string& id, v1::Configuration& configuration) {
  auto& rules = *configuration.mutable_rule_set(0)->mutable_rule();
  for (int i = 0; i < rules.size(); ++i) {
    if (rules.Get(i).id() == id) return void(rules.DeleteSubrange(i, 1));
  }
  ADD_FAILURE() << "no rule " << id;
}

void Replace(const std::string& id, const std::string& condition,
             v1::Configuration& configuration) {
  *RuleOf(configuration, id).mutable_condition() = ConditionOf(condition);
}

TEST(Defects, NothingIsSaidOfAnUnansweredItem) {
  const Broken broken(
      [](v1::Configuration& all) { Remove("self-harm-unanswered", all); });
  const Proof proof = broken.Of("phq-9-self-harm-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  const Counterexample& example = *proof.counterexample;
  ASSERT_EQ(example.events.size(), 1U);
  EXPECT_THAT(PointsOf(example.events[0]),
              ElementsAre(0, 0, 0, 0, 0, 0, 0, 0, -1));
  EXPECT_FALSE(example.events[0].screening_result().has_willing());
  EXPECT_EQ(example.expected,
            "an alert of kind safety at priority asap or higher");
  // The interval of 0 to 3 leaves nothing else open.
  EXPECT_EQ(example.found, "nothing is raised at once");
  EXPECT_THAT(example.words[0], HasSubstr("PHQ-9, total 0-3"));
  broken.ExpectNotRaised(example, v1::ALERT_KIND_SAFETY, v1::PRIORITY_ASAP);
  EXPECT_EQ(broken.Of("epds-self-harm-speaks").result, ProofResult::kFails);
}

TEST(Defects, OnePointOnTheItemIsPassedOver) {
  const Broken broken([](v1::Configuration& all) {
    RuleOf(all, "self-harm-positive")
        .mutable_condition()
        ->mutable_all_of()
        ->mutable_condition(1)
        ->mutable_item()
        ->mutable_at_least()
        ->set_value(2);
  });
  const Proof proof = broken.Of("phq-9-self-harm-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(PointsOf(proof.counterexample->events[0]),
              ElementsAre(0, 0, 0, 0, 0, 0, 0, 0, 1));
  broken.ExpectNotRaised(*proof.counterexample, v1::ALERT_KIND_SAFETY,
                         v1::PRIORITY_ASAP);
}

TEST(Defects, TooLowAPriority) {
  const Broken broken([](v1::Configuration& all) {
    RuleOf(all, "self-harm-unanswered").set_priority(v1::PRIORITY_URGENT);
  });
  const Proof proof = broken.Of("phq-9-self-harm-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_EQ(proof.counterexample->found,
            "self-harm-unanswered (safety, urgent) is raised at once");
}

// A rule that is asked a day later has said nothing yet.
TEST(Defects, AskedLaterIsNotAtOnce) {
  const Broken broken([](v1::Configuration& all) {
    for (const char* id : {"self-harm-positive", "self-harm-unanswered"}) {
      RuleOf(all, id).mutable_when()->mutable_after_days()->set_value(1);
    }
  });
  const Proof proof = broken.Of("phq-9-self-harm-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(PointsOf(proof.counterexample->events[0]),
              ElementsAre(0, 0, 0, 0, 0, 0, 0, 0, -1));
}

// Of 23 points on the referral rule falls silent. Item 9 above 0 would raise a
// safety alert, so the eight others must come to 22, at 3 each but the last of
// them; then one point more.
TEST(Defects, MoreIsLess) {
  const Broken broken([](v1::Configuration& all) {
    Replace("score-above-range",
            R"(score { instrument: "phq-9" at_least { value: 20 }
                       at_most { value: 22 } })",
            all);
  });
  const Proof proof = broken.Of("worse-is-never-less-pressing");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  const Counterexample& example = *proof.counterexample;
  ASSERT_EQ(example.events.size(), 2U);
  EXPECT_NE(example.events[0].participant(), example.events[1].participant());
  EXPECT_THAT(PointsOf(example.events[0]),
              ElementsAre(3, 3, 3, 3, 3, 3, 3, 1, 0));
  EXPECT_THAT(PointsOf(example.events[1]),
              ElementsAre(3, 3, 3, 3, 3, 3, 3, 2, 0));
  EXPECT_EQ(example.found,
            "the highest is asap for the one and none for the other");
  broken.ExpectNotRaised({{example.events[1]}, {""}, "", ""},
                         v1::ALERT_KIND_REFERRAL, v1::PRIORITY_ROUTINE);
}

// From 10 points on only: one point on the item alone is passed over, but with
// three answers missing the total may be 10, and a rule that cannot tell
// raises.
TEST(Defects, CareWithheldForALowScore) {
  const Broken broken([](v1::Configuration& all) {
    v1::Condition& condition =
        *RuleOf(all, "self-harm-positive").mutable_condition();
    *condition.mutable_all_of()->add_condition() =
        ConditionOf(R"(score { instrument: "phq-9" at_least { value: 10 } })");
  });
  const Proof proof = broken.Of("phq-9-care-not-withheld");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  const Counterexample& example = *proof.counterexample;
  ASSERT_EQ(example.events.size(), 2U);
  EXPECT_THAT(PointsOf(example.events[0]),
              ElementsAre(0, 0, 0, 0, 0, 0, 0, 0, 1));
  EXPECT_THAT(PointsOf(example.events[1]),
              ElementsAre(-1, -1, -1, 0, 0, 0, 0, 0, 1));
  EXPECT_EQ(example.found,
            "for the one nothing is raised at once, for the other "
            "self-harm-positive (safety, stat) is raised at once");
}

TEST(Defects, TwoMissedVisitsAreNotEnough) {
  const Broken broken([](v1::Configuration& all) {
    v1::SettingOverride& own = *all.mutable_site(0)->add_override();
    own.set_name("missed-in-a-row");
    own.set_value(3);
  });
  const Proof proof = broken.Of("missed-contact-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  const Counterexample& example = *proof.counterexample;
  EXPECT_THAT(example.words, ElementsAre("enrolled in the programme",
                                         HasSubstr("visit-1: no answer"),
                                         HasSubstr("visit-2: no answer")));
  broken.ExpectNotRaised(example, v1::ALERT_KIND_OUTREACH, v1::PRIORITY_URGENT);
}

// After three visits attended nobody asks any more: the shortest such row ends
// in two missed ones.
TEST(Defects, MissedVisitsCountOnlyEarly) {
  const Broken broken([](v1::Configuration& all) {
    Replace("missed-visits",
            R"(all_of {
                 condition { missed_in_a_row { at_least { value: 2 } } }
                 condition { not { attended_visits { at_least { value: 3 } } } }
               })",
            all);
  });
  const Proof proof = broken.Of("missed-contact-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_EQ(proof.counterexample->words.size(), 6U);
  broken.ExpectNotRaised(*proof.counterexample, v1::ALERT_KIND_OUTREACH,
                         v1::PRIORITY_URGENT);
}

// 6 points are the shipped reliable change; the fewest answers above 0 that
// come to 6 are two, and the last items are the lowest.
TEST(Defects, TheLineIsAPointTooHigh) {
  const Broken broken([](v1::Configuration& all) {
    Replace("reliable-deterioration",
            R"(worse_by { instrument: "phq-9" than: COMPARED_WITH_BASELINE
                          at_least { value: 7 } })",
            all);
  });
  const Proof proof = broken.Of("deterioration-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  const Counterexample& example = *proof.counterexample;
  ASSERT_EQ(example.events.size(), 3U);
  EXPECT_TRUE(example.events[0].has_enrolment());
  EXPECT_THAT(PointsOf(example.events[1]),
              ElementsAre(0, 0, 0, 0, 0, 0, 0, 0, 0));
  EXPECT_THAT(PointsOf(example.events[2]),
              ElementsAre(3, 3, 0, 0, 0, 0, 0, 0, 0));
  broken.ExpectNotRaised(example, v1::ALERT_KIND_STEPPED_CARE,
                         v1::PRIORITY_ASAP);
}

// Who is enrolled only after the second form is passed over.
TEST(Defects, OnlyForTheEnrolled) {
  const Broken broken([](v1::Configuration& all) {
    v1::Condition with = ConditionOf("all_of { condition { enrolled {} } }");
    v1::Condition& condition =
        *RuleOf(all, "reliable-deterioration").mutable_condition();
    *with.mutable_all_of()->add_condition() = condition;
    condition = with;
  });
  const Proof proof = broken.Of("deterioration-speaks");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(
      proof.counterexample->words,
      ElementsAre(HasSubstr("PHQ-9, total 0"), HasSubstr("PHQ-9, total 6")));
}

TEST(Defects, AGapBetweenTwoRules) {
  const Broken broken([](v1::Configuration& all) {
    all.mutable_rule_set(0)
        ->mutable_division(0)
        ->mutable_none_at_most()
        ->set_value(3);
  });
  const Proof proof = broken.Of("who-enters");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(PointsOf(proof.counterexample->events[0]),
              ElementsAre(3, 1, 0, 0, 0, 0, 0, 0, 0));
  EXPECT_EQ(proof.counterexample->found, "none of them speaks");
}

TEST(Defects, TwoRulesForOneTotal) {
  const Broken broken([](v1::Configuration& all) {
    v1::SettingOverride& own = *all.mutable_site(0)->add_override();
    own.set_name("programme-upper");
    own.set_value(20);
  });
  const Proof proof = broken.Of("who-enters");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(PointsOf(proof.counterexample->events[0]),
              ElementsAre(3, 3, 3, 3, 3, 3, 2, 0, 0));
  EXPECT_EQ(proof.counterexample->found,
            "score-above-range and score-in-range-and-willing both speak");
}

// What follows is refused when a configuration is loaded; here it is asked
// whether it would be noticed all the same.

TEST(Defects, ALadderThatDoesNotRepeat) {
  const Broken broken([](v1::Configuration& all) {
    for (v1::Ladder& ladder : *all.mutable_site(0)->mutable_ladder()) {
      ladder.mutable_until_closed()->clear_repeat_every();
    }
  });
  const Proof proof = broken.Of("no-alert-falls-silent");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(proof.counterexample->events, IsEmpty());
  EXPECT_THAT(proof.counterexample->words,
              ElementsAre("an alert of kind safety at priority stat, "
                          "received"));
  EXPECT_THAT(proof.counterexample->found,
              HasSubstr("there is no wait for the next one"));
}

TEST(Defects, NoLadderForOneKind) {
  const Broken broken([](v1::Configuration& all) {
    for (v1::Ladder& ladder : *all.mutable_site(0)->mutable_ladder()) {
      ladder.clear_kind();
      ladder.add_kind(v1::ALERT_KIND_SAFETY);
    }
  });
  const Proof proof = broken.Of("no-alert-falls-silent");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(proof.counterexample->words,
              ElementsAre("an alert of kind referral at priority stat, "
                          "requested"));
  EXPECT_EQ(proof.counterexample->found, "no ladder is for it");
}

// Whoever is on duty, for the last rung of every ladder; and for some hours on
// that day somebody whom the site does not have.
Proof WithAStrangerOn(const std::string& day) {
  const Broken broken([&](v1::Configuration& all) {
    v1::SiteConfig& site = *all.mutable_site(0);
    for (v1::Ladder& ladder : *site.mutable_ladder()) {
      auto& rungs = *ladder.mutable_until_received()->mutable_rung();
      rungs.rbegin()->clear_tell();
      rungs.rbegin()->add_tell()->set_on_duty("on-call-lead");
    }
    ASSERT_EQ(site.rota(0).role(), "on-call-lead");
    v1::DatedOverride& stranger = *site.mutable_rota(0)->add_override();
    stranger.set_from(day + "T03:00");
    stranger.set_until(day + "T06:00");
    stranger.add_person("stranger");
  });
  return broken.Of("no-alert-falls-silent");
}

// Looked at from 4 January 2027; the clocks change on 28 March.
TEST(Defects, AStrangerOnDuty) {
  for (const char* day :
       {"2027-01-04", "2027-01-17", "2027-03-22", "2027-03-28", "2027-04-03"}) {
    const Proof proof = WithAStrangerOn(day);
    if (std::string(day) == "2027-01-04") {
      EXPECT_EQ(proof.result, ProofResult::kHolds) << "over by 10:00";
      continue;
    }
    ASSERT_EQ(proof.result, ProofResult::kFails) << day;
    EXPECT_THAT(proof.counterexample->found,
                HasSubstr("stranger, who is on duty for the last rung"));
  }
  EXPECT_EQ(WithAStrangerOn("2027-02-20").result, ProofResult::kHolds);
}

// Who has the alert has been told already, and one clinician may be away.
TEST(Defects, ALastRungForNobodyWhoIsAlwaysThere) {
  v1::Tell nobody;
  nobody.set_everybody("nobody-has-it");
  v1::Tell own;
  own.set_own_clinician(true);
  v1::Tell holder;
  holder.set_holder(true);
  for (const v1::Tell& tell : {nobody, own, holder}) {
    const Broken broken([&](v1::Configuration& all) {
      for (v1::Ladder& ladder : *all.mutable_site(0)->mutable_ladder()) {
        auto& rungs = *ladder.mutable_until_closed()->mutable_rung();
        rungs.rbegin()->clear_tell();
        *rungs.rbegin()->add_tell() = tell;
      }
    });
    const Proof proof = broken.Of("no-alert-falls-silent");
    ASSERT_EQ(proof.result, ProofResult::kFails);
    EXPECT_EQ(proof.counterexample->found,
              "the last rung tells nobody who is always there");
  }
}

TEST(Defects, AHoldThatNeverEnds) {
  const Broken broken([](v1::Configuration& all) {
    all.mutable_site(0)->clear_longest_hold_days();
  });
  const Proof proof = broken.Of("no-alert-falls-silent");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_EQ(proof.counterexample->found, "a hold never ends");
}

// Nobody works: what is due in working time is never due.
TEST(Defects, AWaitInWorkingTimeThatNobodyWorks) {
  const Broken broken([](v1::Configuration& all) {
    v1::Calendar& calendar = *all.mutable_site(0)->mutable_calendar();
    calendar.clear_working_day();
  });
  const Proof proof = broken.Of("no-alert-falls-silent");
  ASSERT_EQ(proof.result, ProofResult::kFails);
  EXPECT_THAT(proof.counterexample->found,
              HasSubstr("the wait for the next one does not end"));
}

TEST(NotDecided, OnlyARuleOnTheWholeCourseSpeaks) {
  const Broken broken([](v1::Configuration& all) {
    v1::Condition& condition =
        *RuleOf(all, "reliable-deterioration").mutable_condition();
    v1::Condition any = ConditionOf(
        R"(any_of { condition { trend { instrument: "phq-9"
             direction: TREND_DIRECTION_WORSENING p_at_most { value: 50 } } } })");
    *any.mutable_any_of()->add_condition() = condition;
    condition = any;
  });
  const Proof proof = broken.Of("deterioration-speaks");
  EXPECT_EQ(proof.result, ProofResult::kNotDecided);
  EXPECT_THAT(proof.why, HasSubstr("remembers the whole course"));
  ASSERT_TRUE(proof.counterexample.has_value());
  EXPECT_EQ(proof.counterexample->events.size(), 3U);
}

// Another rule, whose memory is known, says the same: the one that is left out
// is not needed.
TEST(NotDecided, NotWhereAnotherRuleIsEnough) {
  const Broken broken([](v1::Configuration& all) {
    v1::Rule& more = *all.mutable_rule_set(0)->add_rule();
    more = RuleOf(all, "reliable-deterioration");
    more.set_id("more");
    *more.mutable_condition() = ConditionOf(
        R"(trend { instrument: "phq-9" direction: TREND_DIRECTION_WORSENING
                   p_at_most { value: 50 } })");
  });
  EXPECT_EQ(broken.Of("deterioration-speaks").result, ProofResult::kHolds);
}

TEST(NotDecided, GivenATrend) {
  const Broken sound([](v1::Configuration&) {});
  const Proof proof = sound.OfText(R"(
    every_score_path { instrument: "phq-9" forms_at_most: 8 }
    given { trend { instrument: "phq-9" direction: TREND_DIRECTION_WORSENING
                    p_at_most { value: 50 } } }
    raise { kind: ALERT_KIND_STEPPED_CARE at_least: PRIORITY_ROUTINE })");
  EXPECT_EQ(proof.result, ProofResult::kNotDecided);
  EXPECT_THAT(proof.why, HasSubstr("the whole course"));
}

TEST(NotDecided, ASettingOrInstrumentThatIsNotThere) {
  const Broken sound([](v1::Configuration&) {});
  const Proof setting = sound.OfText(R"(
    every_form { instrument: "phq-9" }
    given { score { instrument: "phq-9" at_least { setting: "none" } } }
    raise { kind: ALERT_KIND_SAFETY at_least: PRIORITY_ROUTINE })");
  EXPECT_EQ(setting.result, ProofResult::kNotDecided);
  EXPECT_EQ(setting.why, "the rule set has no setting \"none\"");
  const Proof instrument = sound.OfText(R"(
    every_form { instrument: "none" }
    raise { kind: ALERT_KIND_SAFETY at_least: PRIORITY_ROUTINE })");
  EXPECT_EQ(instrument.why, "there is no instrument \"none\"");
}

}  // namespace
}  // namespace turnstone
