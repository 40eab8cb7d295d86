#include "rules/engine/setup.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/duty/written_time.h"
#include "rules/engine/resolve_numbers.h"

namespace turnstone {
namespace {

WorkCalendar MakeCalendar(const v1::SiteConfig& site) {
  absl::TimeZone zone;
  absl::LoadTimeZone(site.time_zone(), &zone);
  std::array<bool, 7> working{};
  for (const int day : site.calendar().working_day()) {
    working.at(static_cast<size_t>(day - v1::MONDAY)) = true;
  }
  std::set<absl::CivilDay> holidays;
  for (const std::string& day : site.calendar().holiday()) {
    holidays.insert(ReadDay(day).value());
  }
  return WorkCalendar(zone, working, std::move(holidays),
                      ReadTimeOfDay(site.calendar().day_start()).value(),
                      ReadTimeOfDay(site.calendar().day_end()).value());
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
  const WorkCalendar calendar = MakeCalendar(config);
  Site site{
      config, calendar, Team(config, calendar.zone()), std::move(rules), {}};
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
