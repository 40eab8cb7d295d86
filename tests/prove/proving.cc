#include "tests/prove/proving.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/text_format.h>

#include "rules/check/event_check.h"
#include "rules/engine/decide.h"
#include "rules/measure/proto_time.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {
namespace {

v1::Configuration ShippedWith(
    const std::function<void(v1::Configuration&)>& defect) {
  v1::Configuration configuration = ShippedConfiguration();
  defect(configuration);
  return configuration;
}

}  // namespace

Broken::Broken(const std::function<void(v1::Configuration&)>& defect)
    : configuration_(ShippedWith(defect)), setup_(configuration_, "broken") {}

Proof Broken::ProveOnly(const v1::PropertySet& set,
                        const std::string& id) const {
  for (const Proof& proof :
       Prove(site(), setup_.catalogue(), {set}, At("2027-01-04T10:00:00Z"),
             [](const std::string&) {})) {
    if (proof.id == id) return proof;
  }
  ADD_FAILURE() << "no property " << id;
  return {};
}

Proof Broken::Of(const std::string& id) const {
  v1::PropertySet only;
  for (const v1::PropertySet& set : configuration_.property_set()) {
    only.set_id(set.id());
    for (const v1::Property& property : set.property()) {
      if (property.id() == id) *only.add_property() = property;
    }
  }
  return ProveOnly(only, id);
}

Proof Broken::OfText(const std::string& property) const {
  v1::PropertySet only;
  only.set_id("own");
  EXPECT_TRUE(google::protobuf::TextFormat::ParseFromString(
      property, only.add_property()));
  only.mutable_property(0)->set_id("own");
  return ProveOnly(only, "own");
}

void Broken::ExpectNotRaised(const Counterexample& example, v1::AlertKind kind,
                             v1::Priority at_least) const {
  ASSERT_FALSE(example.events.empty());
  History history;
  for (const v1::Event& event : example.events) {
    EXPECT_TRUE(CheckEvent(event, setup_, At("2027-01-04T10:00:00Z")).ok())
        << event.ShortDebugString();
    EXPECT_TRUE(history.Apply(event, setup_.catalogue()).ok());
  }
  EXPECT_EQ(example.words.size(), example.events.size());
  const absl::Time last = FromProto(example.events.back().effective_time());
  const Agenda agenda;
  for (const Answer& answer :
       Decide(site(), history, agenda, {last, absl::InfinitePast(), last})) {
    EXPECT_FALSE(answer.raise && answer.rule->kind() == kind &&
                 answer.priority >= at_least)
        << answer.rule->id();
  }
}

v1::Rule& RuleOf(v1::Configuration& configuration, const std::string& id) {
  for (v1::Rule& rule : *configuration.mutable_rule_set(0)->mutable_rule()) {
    if (rule.id() == id) return rule;
  }
  ADD_FAILURE() << "no rule " << id;
  return *configuration.mutable_rule_set(0)->mutable_rule(0);
}

std::vector<int> PointsOf(const v1::Event& event) {
  // LOINC panel 44249-1 in printed order, and answer list LL358-3.
  std::vector<int> points;
  for (const char* item :
       {"44250-9", "44255-8", "44259-0", "44254-1", "44251-7", "44258-2",
        "44252-5", "44253-3", "44260-8"}) {
    int found = -1;
    for (const v1::ItemAnswer& given : event.screening_result().answers()) {
      if (given.question() != item || !given.has_answer()) continue;
      const std::string& code = given.answer();
      found = code == "LA6568-5"   ? 0
              : code == "LA6569-3" ? 1
              : code == "LA6570-1" ? 2
                                   : 3;
    }
    points.push_back(found);
  }
  return points;
}

}  // namespace turnstone
