#include "rules/replay/lane.h"

#include <google/protobuf/util/message_differencer.h>

#include <algorithm>
#include <utility>

#include "rules/diff/plain_numbers.h"

namespace turnstone {
namespace {

using google::protobuf::util::MessageDifferencer;

bool SameInstruments(const Catalogue& one, const Catalogue& other) {
  const std::vector<const Scale*> ours = one.All();
  const std::vector<const Scale*> theirs = other.All();
  return std::equal(ours.begin(), ours.end(), theirs.begin(), theirs.end(),
                    [](const Scale* a, const Scale* b) {
                      return MessageDifferencer::Equals(a->definition(),
                                                        b->definition());
                    });
}

bool SameDays(const v1::SiteConfig& one, const v1::SiteConfig& other) {
  return one.time_zone() == other.time_zone() &&
         one.planned_visits() == other.planned_visits() &&
         MessageDifferencer::Equals(one.calendar(), other.calendar());
}

// Without what is there for people to read, and with numbers alone.
std::vector<v1::Rule> WhatDecides(const Site& site) {
  const v1::RuleSet plain = PlainNumbers(site.rules);
  std::vector<v1::Rule> deciding;
  for (const v1::Rule& rule : plain.rule()) {
    v1::Rule& kept = deciding.emplace_back();
    kept.set_id(rule.id());
    *kept.mutable_when() = rule.when();
    *kept.mutable_condition() = rule.condition();
    *kept.mutable_on_unknown() = rule.on_unknown();
    kept.set_kind(rule.kind());
    kept.set_priority(rule.priority());
    kept.set_unknown_priority(rule.unknown_priority());
  }
  return deciding;
}

Lane EmptyLane(const Setup& setup, const Site& site) {
  Lane lane{&setup.catalogue(), site, {}};
  lane.site.rules.clear_rule();
  return lane;
}

void Add(v1::Rule rule, Sides sides, Lane& lane) {
  *lane.site.rules.add_rule() = std::move(rule);
  lane.sides.push_back(sides);
}

bool Contains(const std::vector<v1::Rule>& rules, const v1::Rule& rule) {
  return std::any_of(rules.begin(), rules.end(), [&](const v1::Rule& other) {
    return MessageDifferencer::Equals(other, rule);
  });
}

}  // namespace

std::vector<Lane> MakeLanes(const Setup& before, const Setup& after,
                            const std::string& site) {
  const Site& old_site = *before.FindSite(site);
  const Site& new_site = *after.FindSite(site);
  const std::vector<v1::Rule> old_rules = WhatDecides(old_site);
  const std::vector<v1::Rule> new_rules = WhatDecides(new_site);
  std::vector<Lane> lanes{EmptyLane(after, new_site)};
  const bool alike = SameInstruments(before.catalogue(), after.catalogue()) &&
                     SameDays(old_site.config, new_site.config);
  if (!alike) lanes.push_back(EmptyLane(before, old_site));
  for (const v1::Rule& rule : new_rules) {
    Add(rule, {alike && Contains(old_rules, rule), true}, lanes.front());
  }
  for (const v1::Rule& rule : old_rules) {
    if (alike && Contains(new_rules, rule)) continue;
    Add(rule, {true, false}, lanes.back());
  }
  return lanes;
}

}  // namespace turnstone
