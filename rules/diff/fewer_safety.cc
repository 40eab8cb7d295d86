#include "rules/diff/fewer_safety.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/util/message_differencer.h>

#include "rules/diff/plain_numbers.h"

namespace turnstone {
namespace {

using google::protobuf::Message;
using google::protobuf::util::MessageDifferencer;

const v1::Rule* FindRule(const v1::RuleSet& rules, const std::string& id) {
  for (const v1::Rule& rule : rules.rule()) {
    if (rule.id() == id) return &rule;
  }
  return nullptr;
}

// What of the rule is weaker, or other, than before; empty if nothing is.
std::vector<std::string> Weaker(const v1::Rule& before, const v1::Rule& after) {
  std::vector<std::string> all;
  const auto note = [&all](bool differs, const char* what) {
    if (differs) all.emplace_back(what);
  };
  const auto other = [](const Message& a, const Message& b) {
    return !MessageDifferencer::Equals(a, b);
  };
  note(after.kind() != v1::ALERT_KIND_SAFETY, "is no longer of kind safety");
  note(other(before.condition(), after.condition()),
       "has another condition, or another number in it");
  note(other(before.when(), after.when()), "is asked on another occasion");
  note(other(before.on_unknown(), after.on_unknown()),
       "does otherwise where it cannot tell");
  note(after.priority() < before.priority(), "has a lower priority");
  note(after.unknown_priority() < before.unknown_priority(),
       "has a lower priority where it cannot tell");
  note(before.latched() && !after.latched(), "is no longer latched");
  return all;
}

}  // namespace

std::vector<std::string> FewerSafety(const std::string& site,
                                     const Setup& before, const Setup& after) {
  const Site* const then = before.FindSite(site);
  const Site* const now = after.FindSite(site);
  if (then == nullptr || now == nullptr) return {};
  std::vector<std::string> all;
  const v1::RuleSet old_rules = PlainNumbers(then->rules);
  const v1::RuleSet rules = PlainNumbers(now->rules);
  for (const v1::Rule& rule : old_rules.rule()) {
    if (rule.kind() != v1::ALERT_KIND_SAFETY) continue;
    const v1::Rule* const successor = FindRule(rules, rule.id());
    if (successor == nullptr) {
      all.push_back(
          absl::StrCat(site, ": the safety rule ", rule.id(), " is gone"));
      continue;
    }
    for (const std::string& what : Weaker(rule, *successor)) {
      all.push_back(
          absl::StrCat(site, ": the safety rule ", rule.id(), " ", what));
    }
  }
  for (const Scale* scale : before.catalogue().All()) {
    const v1::Instrument& old = scale->definition();
    const Scale* const kept = after.catalogue().Find(old.id());
    if (kept != nullptr && MessageDifferencer::Equals(old, kept->definition()))
      continue;
    all.push_back(absl::StrCat(site, ": the instrument ", old.id(),
                               " is scored from another file"));
  }
  return all;
}

}  // namespace turnstone
