// A participant of the shipped site, known through the events a test tells.
#pragma once

#include <gtest/gtest.h>

#include <string>
#include <vector>

#include "rules/explain/outcome.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {

// Monday 4 January 2027 10:00; the site's clocks show UTC in winter, and its
// working days end at 17:00.
class KnownTest : public testing::Test {
 protected:
  void Know(const v1::Event& event) {
    const auto change = history_.Apply(event, setup_.catalogue());
    ASSERT_TRUE(change.ok()) << change.status();
    events_.push_back(event);
  }
  int Rule(const std::string& id) const {
    for (int i = 0; i < site_.rules.rule_size(); ++i) {
      if (site_.rules.rule(i).id() == id) return i;
    }
    ADD_FAILURE() << "no rule " << id;
    return 0;
  }
  Knowledge KnownAt(absl::Time moment) const {
    return {setup_, site_, history_, moment};
  }
  v1::RuleOutcome Ask(const std::string& rule, const std::string& event,
                      absl::Time moment) const {
    return OutcomeOf(Rule(rule), history_.Find({"urn:test", event}).value(),
                     KnownAt(moment));
  }

  const turnstone::Setup setup_ = ShippedSetup();
  const Site& site_ = *setup_.FindSite("pebble-bay");
  History history_;
  std::vector<v1::Event> events_;
  const absl::Time start_ = At("2027-01-04T10:00:00Z");
};

}  // namespace turnstone
