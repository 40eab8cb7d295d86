// A replay of a few events by one rule, or a few, of those we ship.
#pragma once

#include <absl/strings/str_cat.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include "rules/replay/replay.h"
#include "tests/support/events.h"
#include "tests/support/shipped.h"

namespace turnstone {

inline constexpr char kReplaySite[] = "pebble-bay";

// What we ship, with only those rules.
inline v1::Configuration OnlyRules(const std::vector<std::string>& ids) {
  v1::Configuration configuration = ShippedConfiguration();
  auto* rules = configuration.mutable_rule_set(0)->mutable_rule();
  rules->erase(std::remove_if(rules->begin(), rules->end(),
                              [&ids](const v1::Rule& rule) {
                                return std::find(ids.begin(), ids.end(),
                                                 rule.id()) == ids.end();
                              }),
               rules->end());
  return configuration;
}

inline v1::Configuration WithNumber(v1::Configuration configuration,
                                    const std::string& name, int value) {
  for (v1::Setting& setting :
       *configuration.mutable_rule_set(0)->mutable_setting()) {
    if (setting.name() == name) setting.set_value(value);
  }
  return configuration;
}

inline v1::Event Of(const std::string& participant, v1::Event event) {
  event.set_participant(participant);
  event.set_event_id(participant + "-" + event.event_id());
  return event;
}

class ReplayTest : public testing::Test {
 protected:
  // What is taken in next, recorded at `recorded`, or when it happened.
  void Record(const v1::Event& event) {
    Record(event, absl::FromUnixSeconds(event.effective_time().seconds()));
  }
  void Record(const v1::Event& event, absl::Time recorded) {
    events_.emplace_back(event, recorded);
  }
  Difference Compare(const v1::Configuration& before,
                     const v1::Configuration& after,
                     const ReplayWindow& window = {}) {
    const turnstone::Setup old_setup(before, "");
    const turnstone::Setup new_setup(after, "");
    Replay replay(old_setup, new_setup, kReplaySite, window);
    for (const auto& [event, recorded] : events_) {
      taken_ = replay.Take(event, recorded);
    }
    return replay.Finish();
  }

  std::vector<std::pair<v1::Event, absl::Time>> events_;
  absl::Status taken_;  // the last one
};

// "p1 score-above-range p1-form".
inline std::vector<std::string> Names(const std::vector<Verdict>& verdicts) {
  std::vector<std::string> names;
  names.reserve(verdicts.size());
  for (const Verdict& verdict : verdicts) {
    names.push_back(absl::StrCat(verdict.participant, " ", verdict.rule, " ",
                                 verdict.event.event_id));
  }
  return names;
}

}  // namespace turnstone
