#include "rules/engine/setup.h"

#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/engine/resolve_numbers.h"

namespace turnstone {
namespace {

// REQUIRES: "YYYY-MM-DD", checked at load.
absl::CivilDay ParseDay(const std::string& text) {
  absl::CivilDay day;
  absl::ParseCivilTime(text, &day);
  return day;
}

// REQUIRES: "HH:MM", checked at load.
absl::Duration ParseDayEnd(const std::string& text) {
  int hours = 0;
  int minutes = 0;
  (void)absl::SimpleAtoi(text.substr(0, 2), &hours);
  (void)absl::SimpleAtoi(text.substr(3, 2), &minutes);
  return absl::Hours(hours) + absl::Minutes(minutes);
}

WorkCalendar MakeCalendar(const v1::SiteConfig& site) {
  absl::TimeZone zone;
  absl::LoadTimeZone(site.time_zone(), &zone);
  std::array<bool, 7> working{};
  for (const int day : site.calendar().working_day()) {
    working.at(static_cast<size_t>(day - v1::MONDAY)) = true;
  }
  std::set<absl::CivilDay> holidays;
  for (const std::string& day : site.calendar().holiday()) {
    holidays.insert(ParseDay(day));
  }
  return WorkCalendar(zone, working, std::move(holidays),
                      ParseDayEnd(site.calendar().day_end()));
}

// `holder` is a Setting or a SettingOverride.
template <typename Holder>
SettingInForce InForce(const Holder& holder, std::string whose) {
  if (holder.has_reliable_change()) {
    const v1::ReliableChange& change = holder.reliable_change();
    absl::StrAppend(&whose, ", ", change.instrument());
    if (change.preset().empty()) {
      absl::StrAppend(&whose, " with standard deviation ",
                      change.standard_deviation(), " and reliability ",
                      change.reliability());
    } else {
      absl::StrAppend(&whose, " preset ", change.preset());
    }
  }
  return {holder.value(), std::move(whose)};
}

std::map<std::string, SettingInForce> SettingsInForce(
    const v1::RuleSet& rules, const v1::SiteConfig& site) {
  std::map<std::string, SettingInForce> settings;
  for (const v1::Setting& setting : rules.setting()) {
    settings[setting.name()] = InForce(setting, "rule set");
  }
  for (const v1::SettingOverride& override : site.override()) {
    settings[override.name()] = InForce(override, "site");
  }
  return settings;
}

Site MakeSite(const v1::SiteConfig& config, v1::RuleSet rules) {
  Site site{config, MakeCalendar(config), std::move(rules), {}};
  site.settings = SettingsInForce(site.rules, config);
  for (v1::Rule& rule : *site.rules.mutable_rule()) {
    ResolveNumbers(site.settings, rule);
    if (!rule.has_on_unknown()) {
      rule.mutable_on_unknown()->mutable_raise_for_review();
    }
    if (rule.unknown_priority() == v1::PRIORITY_UNSPECIFIED) {
      rule.set_unknown_priority(rule.priority());
    }
  }
  return site;
}

}  // namespace

const v1::Protocol* Site::FindProtocol(const std::string& id) const {
  for (const v1::Protocol& protocol : config.protocol()) {
    if (protocol.id() == id) return &protocol;
  }
  return nullptr;
}

Setup::Setup(const v1::Configuration& configuration, std::string digest)
    : catalogue_({configuration.instrument().begin(),
                  configuration.instrument().end()}),
      digest_(std::move(digest)) {
  std::map<std::string, v1::RuleSet> rule_sets;
  for (const v1::RuleSet& rules : configuration.rule_set()) {
    rule_sets[rules.id()] = rules;
  }
  for (const v1::SiteConfig& site : configuration.site()) {
    sites_.emplace(site.id(), MakeSite(site, rule_sets[site.rule_set()]));
  }
}

const Site* Setup::FindSite(const std::string& id) const {
  const auto found = sites_.find(id);
  return found == sites_.end() ? nullptr : &found->second;
}

}  // namespace turnstone
