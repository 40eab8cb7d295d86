#include "service/core/burden_loads.h"

#include <absl/time/civil_time.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "rules/measure/proto_time.h"
#include "service/core/alert_story.h"

namespace turnstone {
namespace {

using PersonLoads = std::map<std::string, v1::PersonLoad>;

// Returns the tellings.
int AddTellings(const v1::Alert& alert, PersonLoads& loads) {
  int tellings = 0;
  std::set<std::string> told;
  for (const v1::AlertChange& change : alert.history()) {
    if (change.told().empty()) continue;
    const int times = std::max(1, change.times());
    tellings += times;
    for (const std::string& person : change.told()) {
      loads[person].set_tellings(loads[person].tellings() + times);
      told.insert(person);
    }
  }
  for (const std::string& person : told) {
    loads[person].set_alerts(loads[person].alerts() + 1);
  }
  return tellings;
}

// In order of name where they have the same number of alerts.
template <typename Loads, typename Field>
void AddMostFirst(const Loads& loads, Field& field) {
  for (const auto& [name, load] : loads) *field.Add() = load;
  std::stable_sort(
      field.begin(), field.end(),
      [](const auto& a, const auto& b) { return a.alerts() > b.alerts(); });
}

}  // namespace

bool WithoutAction(const v1::Alert& alert, const Site& site) {
  if (alert.status() == v1::ALERT_STATUS_CANCELLED ||
      alert.status() == v1::ALERT_STATUS_ENTERED_IN_ERROR) {
    return true;
  }
  const auto& outcomes = site.config.closing_outcome();
  return alert.status() == v1::ALERT_STATUS_COMPLETED &&
         std::any_of(outcomes.begin(), outcomes.end(),
                     [&](const v1::ClosingOutcome& outcome) {
                       return outcome.no_action() &&
                              outcome.id() == alert.closing().outcome();
                     });
}

void AddPersonLoads(const std::vector<const v1::Alert*>& alerts,
                    v1::Burden& burden) {
  PersonLoads loads;
  int tellings = 0;
  for (const v1::Alert* alert : alerts) {
    tellings += AddTellings(*alert, loads);
    if (const v1::AlertChange* first = FirstInHand(*alert)) {
      v1::PersonLoad& load = loads[first->by().name()];
      load.set_received(load.received() + 1);
    }
  }
  for (auto& [person, load] : loads) load.set_person(person);
  burden.set_tellings(tellings);
  AddMostFirst(loads, *burden.mutable_by_person());
}

void AddRuleLoads(const std::vector<const v1::Alert*>& alerts, const Site& site,
                  v1::Burden& burden) {
  std::map<std::string, v1::RuleLoad> loads;
  for (const v1::Alert* alert : alerts) {
    v1::RuleLoad& load = loads[alert->rule().rule()];
    load.set_rule(alert->rule().rule());
    load.set_title(alert->rule().title());
    load.set_alerts(load.alerts() + 1);
    load.set_repeats(load.repeats() + RepeatsOf(*alert));
    load.set_without_action(load.without_action() +
                            (WithoutAction(*alert, site) ? 1 : 0));
  }
  AddMostFirst(loads, *burden.mutable_by_rule());
}

void AddDayLoads(const std::vector<const v1::Alert*>& alerts, absl::Time from,
                 absl::Time to, absl::Time now, absl::TimeZone zone,
                 v1::Burden& burden) {
  std::map<absl::CivilDay, int> days;
  for (const v1::Alert* alert : alerts) {
    ++days[absl::ToCivilDay(FromProto(alert->raised_at()), zone)];
  }
  for (absl::CivilDay day = absl::ToCivilDay(from, zone); from <= now; ++day) {
    const absl::Time begins = absl::FromCivil(day, zone);
    if (begins >= to || begins > now) return;
    v1::DayLoad& load = *burden.add_by_day();
    load.set_day(absl::FormatCivilTime(day));
    load.set_alerts(days[day]);
  }
}

}  // namespace turnstone
