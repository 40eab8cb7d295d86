#include "service/core/what_decides.h"

#include <google/protobuf/util/message_differencer.h>

#include <set>

namespace turnstone {
namespace {

using google::protobuf::util::MessageDifferencer;

v1::SiteConfig ChoicesOf(const v1::SiteConfig& site) {
  v1::SiteConfig kept;
  kept.set_id(site.id());
  kept.set_rule_set(site.rule_set());
  kept.set_planned_visits(site.planned_visits());
  *kept.mutable_override() = site.override();
  return kept;
}

// `site` empty: at every site.
v1::Configuration WhatDecides(const v1::Configuration& configuration,
                              const std::string& site) {
  v1::Configuration kept;
  *kept.mutable_instrument() = configuration.instrument();
  *kept.mutable_property_set() = configuration.property_set();
  std::set<std::string> in_use;
  for (const v1::SiteConfig& each : configuration.site()) {
    if (!site.empty() && each.id() != site) continue;
    *kept.add_site() = ChoicesOf(each);
    in_use.insert(each.rule_set());
  }
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    if (in_use.contains(rules.id())) *kept.add_rule_set() = rules;
  }
  return kept;
}

}  // namespace

bool DecideAlike(const v1::Configuration& a, const v1::Configuration& b) {
  return MessageDifferencer::Equals(WhatDecides(a, ""), WhatDecides(b, ""));
}

std::vector<std::string> SitesThatDiffer(const v1::Configuration& a,
                                         const v1::Configuration& b) {
  std::vector<std::string> differ;
  for (const v1::SiteConfig& site : a.site()) {
    if (MessageDifferencer::Equals(WhatDecides(a, site.id()),
                                   WhatDecides(b, site.id()))) {
      continue;
    }
    differ.push_back(site.id());
  }
  return differ;
}

}  // namespace turnstone
