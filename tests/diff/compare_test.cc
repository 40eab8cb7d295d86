// What differs, in words. Source of every sentence: rules/diff/compare.h and
// the rules changed here, written out by hand.
#include "rules/diff/compare.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "tests/support/rule_changes.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;

constexpr char kBay[] = "pebble-bay";

struct TwoSides {
  explicit TwoSides(const v1::Configuration& next)
      : before(ShippedSetup()), after(next, "next") {}

  [[nodiscard]] std::vector<RuleChange> Rules() const {
    return CompareRules(was(), before.catalogue(), now(), after.catalogue());
  }
  [[nodiscard]] const Site& was() const { return *before.FindSite(kBay); }
  [[nodiscard]] const Site& now() const { return *after.FindSite(kBay); }

  Setup before;
  Setup after;
};

v1::Configuration RuleChanged(const std::string& id,
                              const std::function<void(v1::Rule&)>& change) {
  v1::Configuration next = ShippedConfiguration();
  for (v1::Rule& rule : *next.mutable_rule_set(0)->mutable_rule()) {
    if (rule.id() == id) change(rule);
  }
  return next;
}

// Lines of the one rule that changed, version raised.
std::vector<std::string> LinesOf(const std::function<void(v1::Rule&)>& change) {
  const TwoSides sides(RuleChanged("self-harm-positive", [&](v1::Rule& rule) {
    rule.set_version(rule.version() + 1);
    change(rule);
  }));
  const auto changes = sides.Rules();
  if (changes.size() != 1 || changes[0].rule != "self-harm-positive" ||
      changes[0].what != "changed") {
    return {"not the one change expected"};
  }
  return changes[0].lines;
}

constexpr char kRaised[] = "version: was 2,\nis now 3";

TEST(CompareTest, NothingDiffers) {
  const v1::Configuration same = ShippedConfiguration();
  const TwoSides sides(same);
  EXPECT_THAT(sides.Rules(), IsEmpty());
  EXPECT_THAT(CompareNumbers(sides.was(), sides.now()), IsEmpty());
  EXPECT_THAT(CompareRuleSets(sides.was().rules, sides.now().rules), IsEmpty());
  EXPECT_THAT(CompareShared(same, same), IsEmpty());
}

TEST(CompareTest, AddedAndRemoved) {
  const TwoSides sides(RuleChanged(
      "self-harm-positive", [](v1::Rule& rule) { rule.set_id("renamed"); }));
  const auto changes = sides.Rules();
  ASSERT_EQ(changes.size(), 2U);
  EXPECT_EQ(changes[0].rule, "self-harm-positive");
  EXPECT_EQ(changes[0].what, "removed");
  EXPECT_EQ(changes[1].rule, "renamed");
  EXPECT_EQ(changes[1].what, "added");
  EXPECT_THAT(
      changes[1].lines,
      ElementsAre("title: Self-harm item answered positively",
                  StartsWith("asked: when a "), StartsWith("raised when: "),
                  "alert: safety, stat, latched"));
}

TEST(CompareTest, WhatTheRuleDoes) {
  EXPECT_THAT(LinesOf([](v1::Rule& rule) {
                rule.mutable_when()->mutable_after_days()->set_value(2);
              }),
              ElementsAre(testing::AllOf(StartsWith("asked: was when a "),
                                         HasSubstr(",\nis now 2 days after ")),
                          kRaised));
  EXPECT_THAT(
      LinesOf([](v1::Rule& rule) {
        *rule.mutable_condition() = v1::Condition();
        rule.mutable_condition()
            ->mutable_missed_in_a_row()
            ->mutable_at_least()
            ->set_value(4);
      }),
      ElementsAre(testing::AllOf(StartsWith("raised when: was "),
                                 HasSubstr(",\nis now "), HasSubstr("4")),
                  kRaised));
  EXPECT_THAT(LinesOf([](v1::Rule& rule) {
                rule.set_kind(v1::ALERT_KIND_REFERRAL);
                rule.set_priority(v1::PRIORITY_ASAP);
                rule.set_latched(false);
                rule.set_protocol("other");
              }),
              ElementsAre("alert: was safety, stat, latched,\n"
                          "is now referral, asap",
                          "protocol: was self-harm,\nis now other", kRaised));
}

// The condition cannot be unknown, so that its sentence is silent on it.
TEST(CompareTest, WhatTheSentencesDoNotSayIsNotLost) {
  const TwoSides sides(RuleChanged("missed-visits", [](v1::Rule& rule) {
    rule.mutable_on_unknown()
        ->mutable_wait_then_raise()
        ->mutable_working_days()
        ->set_value(3);
    rule.set_version(9);
  }));
  const auto changes = sides.Rules();
  ASSERT_EQ(changes.size(), 1U);
  EXPECT_THAT(
      changes[0].lines[0],
      StartsWith("raised when: written otherwise, in the same words: "));
}

TEST(CompareTest, WhoAndWhy) {
  EXPECT_THAT(LinesOf([](v1::Rule& rule) {
                rule.set_title("Other");
                rule.set_owner("duty-lead");
                rule.set_rationale("Other");
              }),
              ElementsAre("title: was Self-harm item answered positively,\n"
                          "is now Other",
                          "owner: was programme-lead,\nis now duty-lead",
                          "the reasons given have changed", kRaised));
  EXPECT_THAT(LinesOf([](v1::Rule& rule) { rule.set_source("Other"); }),
              ElementsAre("the reasons given have changed", kRaised));
}

TEST(CompareTest, ExamplesAreCounted) {
  const auto lines = [](const std::function<void(v1::Rule&)>& change) {
    const TwoSides sides(RuleChanged("self-harm-positive", change));
    const auto changes = sides.Rules();
    return changes.empty() ? std::vector<std::string>() : changes[0].lines;
  };
  // Examples alone need no other version.
  EXPECT_THAT(lines([](v1::Rule& rule) {
                for (int i = 0; i < 3; ++i) rule.add_example();
              }),
              ElementsAre("3 more examples"));
  EXPECT_THAT(
      lines([](v1::Rule& rule) { rule.mutable_example()->RemoveLast(); }),
      ElementsAre("1 fewer example"));
  EXPECT_THAT(lines([](v1::Rule& rule) {
                rule.mutable_example(0)->set_because("Other");
              }),
              ElementsAre("as many examples, but other ones"));
}

TEST(CompareTest, AVersionThatWasNotRaised) {
  const auto last = [](int version, const std::string& title) {
    const TwoSides sides(RuleChanged("self-harm-positive", [&](v1::Rule& rule) {
      rule.set_version(version);
      if (!title.empty()) rule.set_title(title);
    }));
    return sides.Rules().at(0).lines.back();
  };
  EXPECT_EQ(last(2, "Other"), "its version was not raised: was 2, is 2");
  EXPECT_EQ(last(1, ""), "its version was not raised: was 2, is 1");
  EXPECT_EQ(last(3, "Other"), kRaised);
}

TEST(CompareTest, ASettingStandsAloneAndNamesWhatItTouches) {
  const TwoSides sides(WithOverride("above-range", 16));
  EXPECT_THAT(CompareNumbers(sides.was(), sides.now()),
              ElementsAre("above-range: was 20 (rule set), is now 16 (site); "
                          "touches score-above-range"));
  EXPECT_THAT(sides.Rules(), IsEmpty());
  EXPECT_THAT(CompareRuleSets(sides.was().rules, sides.now().rules), IsEmpty());
}

TEST(CompareTest, TheSameNumberFromSomebodyElse) {
  const TwoSides sides(WithOverride("above-range", 20));
  EXPECT_THAT(CompareNumbers(sides.was(), sides.now()),
              ElementsAre("above-range: was 20 (rule set), is now 20 (site); "
                          "the same number"));
}

TEST(CompareTest, NumbersThatComeAndTheVisitsPlanned) {
  v1::Configuration next = ShippedConfiguration();
  v1::Setting& added = *next.mutable_rule_set(0)->add_setting();
  added.set_name("another");
  added.set_value(7);
  const int planned = next.site(0).planned_visits();
  ASSERT_EQ(planned, 8);  // deploy/config/sites/pebble-bay.textproto
  next.mutable_site(0)->set_planned_visits(10);
  const TwoSides sides(next);
  EXPECT_THAT(CompareNumbers(sides.was(), sides.now()),
              ElementsAre("another: was not there, is now 7 (rule set)",
                          "visits planned: was 8, is now 10"));
}

TEST(CompareTest, TheRuleSetAround) {
  v1::Configuration next = ShippedConfiguration();
  v1::RuleSet& rules = *next.mutable_rule_set(0);
  rules.mutable_division(0)->mutable_none_at_most()->set_value(3);
  rules.mutable_setting(0)->set_low(6);
  const TwoSides sides(next);
  EXPECT_THAT(CompareRuleSets(sides.was().rules, sides.now().rules),
              ElementsAre("the setting programme-lower differs in its low",
                          "the division who-enters differs in its none at most",
                          "the rule set home-visits has changed, but its "
                          "version was not raised: was 2, is 2"));
  rules.set_version(3);
  rules.clear_division();
  const TwoSides raised(next);
  EXPECT_THAT(CompareRuleSets(raised.was().rules, raised.now().rules),
              ElementsAre("the setting programme-lower differs in its low",
                          "the division who-enters is removed",
                          "the rule set home-visits: version was 2, is now 3"));
}

TEST(CompareTest, InstrumentsAndProperties) {
  const v1::Configuration before = ShippedConfiguration();
  v1::Configuration after = before;
  for (v1::Instrument& instrument : *after.mutable_instrument()) {
    if (instrument.id() == "phq-9") instrument.set_band_source("Other");
    if (instrument.id() == "sis") instrument.set_id("sis-2");
  }
  v1::PropertySet& set = *after.mutable_property_set(0);
  const std::string gone = set.property(0).id();
  set.mutable_property()->DeleteSubrange(0, 1);
  set.set_version(set.version() + 1);
  v1::PropertySet& own = *after.add_property_set();
  own.set_id("own");
  EXPECT_THAT(
      CompareShared(before, after),
      ElementsAre("the instrument phq-9 differs in its band source",
                  "the instrument sis is removed",
                  "the instrument sis-2 is added",
                  "the property " + gone + " is removed",
                  StartsWith("the property set " + set.id() + ": version was"),
                  "the property set own is added"));
}

}  // namespace
}  // namespace turnstone
