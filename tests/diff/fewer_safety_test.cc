// Which changes may lose a safety alert. Expected values follow from the
// definition in rules/diff/fewer_safety.h, by hand.
#include "rules/diff/fewer_safety.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <functional>

#include "tests/support/rule_changes.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

constexpr char kSite[] = "pebble-bay";

std::vector<std::string> Against(const v1::Configuration& after) {
  const Setup before = ShippedSetup();
  const Setup next(after, "next");
  return FewerSafety(kSite, before, next);
}

std::vector<std::string> WithRuleChanged(
    const std::string& id, const std::function<void(v1::Rule&)>& change) {
  v1::Configuration after = ShippedConfiguration();
  for (v1::Rule& rule : *after.mutable_rule_set(0)->mutable_rule()) {
    if (rule.id() == id) change(rule);
  }
  return Against(after);
}

TEST(FewerSafetyTest, TheSameRulesLoseNone) {
  EXPECT_THAT(Against(ShippedConfiguration()), IsEmpty());
}

TEST(FewerSafetyTest, ARuleThatIsGone) {
  EXPECT_THAT(Against(WithoutRule("self-harm-positive")),
              ElementsAre("pebble-bay: the safety rule self-harm-positive is "
                          "gone"));
  EXPECT_THAT(Against(WithoutRule("missed-visits")), IsEmpty());
}

TEST(FewerSafetyTest, ANumberOfASafetyRuleAlone) {
  EXPECT_THAT(Against(WithOverride("self-harm-lookback", 90)),
              ElementsAre("pebble-bay: the safety rule missed-after-self-harm "
                          "has another condition, or another number in it"));
  EXPECT_THAT(Against(WithOverride("above-range", 22)), IsEmpty());
}

TEST(FewerSafetyTest, TheSameNumberWrittenOutLosesNone) {
  EXPECT_THAT(WithRuleChanged("missed-after-self-harm",
                              [](v1::Rule& rule) {
                                v1::SelfHarmEarlier& earlier =
                                    *rule.mutable_condition()
                                         ->mutable_all_of()
                                         ->mutable_condition(1)
                                         ->mutable_self_harm_earlier();
                                earlier.mutable_within_days()->clear_setting();
                                earlier.mutable_within_days()->set_value(365);
                              }),
              IsEmpty());
}

TEST(FewerSafetyTest, EachWayOfBeingWeaker) {
  const auto changed = [](const std::function<void(v1::Rule&)>& change) {
    return WithRuleChanged("self-harm-positive", change);
  };
  const std::string rule = "pebble-bay: the safety rule self-harm-positive ";
  EXPECT_THAT(changed([](v1::Rule& r) { r.set_kind(v1::ALERT_KIND_REFERRAL); }),
              ElementsAre(rule + "is no longer of kind safety"));
  EXPECT_THAT(changed([](v1::Rule& r) { r.set_priority(v1::PRIORITY_ASAP); }),
              ElementsAre(rule + "has a lower priority",
                          rule + "has a lower priority where it cannot tell"));
  EXPECT_THAT(changed([](v1::Rule& r) { r.set_latched(false); }),
              ElementsAre(rule + "is no longer latched"));
  EXPECT_THAT(changed([](v1::Rule& r) {
                r.mutable_when()->mutable_screening()->clear_instrument();
                r.mutable_when()->mutable_screening()->add_instrument("phq-9");
              }),
              ElementsAre(rule + "is asked on another occasion"));
  EXPECT_THAT(changed([](v1::Rule& r) {
                r.mutable_on_unknown()
                    ->mutable_wait_then_raise()
                    ->mutable_working_days()
                    ->set_value(3);
              }),
              ElementsAre(rule + "does otherwise where it cannot tell"));
}

TEST(FewerSafetyTest, WordsAndHigherPriorityLoseNone) {
  EXPECT_THAT(WithRuleChanged("self-harm-unanswered",
                              [](v1::Rule& rule) {
                                rule.set_priority(v1::PRIORITY_STAT);
                                rule.set_title("Other words");
                                rule.set_rationale("Other words");
                                rule.set_version(9);
                              }),
              IsEmpty());
}

TEST(FewerSafetyTest, AnInstrumentThatIsScoredOtherwise) {
  v1::Configuration after = ShippedConfiguration();
  for (v1::Instrument& instrument : *after.mutable_instrument()) {
    if (instrument.id() == "phq-9") instrument.set_name("Another");
  }
  EXPECT_THAT(Against(after), ElementsAre("pebble-bay: the instrument phq-9 is "
                                          "scored from another file"));
}

}  // namespace
}  // namespace turnstone
