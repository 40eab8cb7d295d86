#include "rules/engine/rule_words.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>

#include "rules/engine/can_be_unknown.h"
#include "rules/engine/condition_words.h"
#include "rules/engine/rule_terms.h"

namespace turnstone {
namespace {

// "stepped-care": the name of a value without that of its type.
std::string Word(const std::string& name, const std::string& type) {
  return absl::StrReplaceAll(absl::AsciiStrToLower(name.substr(type.size())),
                             {{"_", "-"}});
}

std::string PriorityWord(v1::Priority priority) {
  return Word(v1::Priority_Name(priority), "PRIORITY_");
}

std::string Asked(const v1::Occasion& when, const RuleTerms& terms) {
  const EventWords event = terms.Event();
  if (when.has_after_working_days()) {
    return absl::StrCat(terms.Number(when.after_working_days(), "working day"),
                        " after ", event.after);
  }
  if (when.has_after_days()) {
    return absl::StrCat(terms.Number(when.after_days(), "day"), " after ",
                        event.after);
  }
  return event.at_once;
}

std::string OnUnknown(const v1::Rule& rule, const RuleTerms& terms) {
  if (!CanBeUnknown(rule.condition())) return "";
  const v1::Priority priority =
      rule.unknown_priority() != v1::PRIORITY_UNSPECIFIED
          ? rule.unknown_priority()
          : rule.priority();
  std::string first;
  if (rule.on_unknown().has_wait_then_raise()) {
    const v1::Number& wait = rule.on_unknown().wait_then_raise().working_days();
    first = absl::StrCat("asked again after ",
                         terms.Number(wait, "working day"), " and then ");
  }
  return absl::StrCat("; if that cannot be told, ", first,
                      "raised for review at priority ", PriorityWord(priority));
}

std::string Alert(const v1::Rule& rule) {
  return absl::StrCat(Word(v1::AlertKind_Name(rule.kind()), "ALERT_KIND_"),
                      ", ", PriorityWord(rule.priority()),
                      rule.latched() ? ", latched" : "");
}

}  // namespace

RuleWords DescribeRule(const v1::Rule& rule, const Catalogue& catalogue,
                       const std::map<std::string, SettingInForce>& settings) {
  const RuleTerms terms(rule, catalogue, settings);
  return {Asked(rule.when(), terms),
          absl::StrCat(ConditionInWords(rule.condition(), terms),
                       OnUnknown(rule, terms)),
          Alert(rule)};
}

std::map<std::string, SettingInForce> OwnSettings(const v1::RuleSet& rules) {
  v1::Configuration configuration;
  *configuration.add_rule_set() = rules;
  v1::SiteConfig& site = *configuration.add_site();
  site.set_id("any");
  site.set_time_zone("UTC");
  site.mutable_calendar()->set_day_start("09:00");
  site.mutable_calendar()->set_day_end("17:00");
  site.set_rule_set(rules.id());
  return Setup(configuration, "").FindSite(site.id())->settings;
}

}  // namespace turnstone
