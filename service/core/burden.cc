#include "service/core/burden.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>

#include "rules/measure/proto_time.h"
#include "service/core/alert_story.h"
#include "service/core/burden_loads.h"
#include "service/core/spread.h"

namespace turnstone {
namespace {

using Alerts = std::vector<const v1::Alert*>;
using Subject = std::pair<std::string, std::string>;  // participant, rule

Subject SubjectOf(const v1::Alert& alert) {
  return {alert.participant(), alert.rule().rule()};
}

absl::Time RaisedAt(const v1::Alert& alert) {
  return FromProto(alert.raised_at());
}

// In the order in which they came up.
Alerts RaisedWithin(const std::vector<v1::Alert>& alerts,
                    const std::string& site, absl::Time from, absl::Time to) {
  Alerts chosen;
  for (const v1::Alert& alert : alerts) {
    const absl::Time raised = RaisedAt(alert);
    if (alert.site() == site && raised >= from && raised < to) {
      chosen.push_back(&alert);
    }
  }
  std::stable_sort(chosen.begin(), chosen.end(),
                   [](const v1::Alert* a, const v1::Alert* b) {
                     return RaisedAt(*a) < RaisedAt(*b);
                   });
  return chosen;
}

void AddPriorities(const Alerts& alerts, v1::Burden& burden) {
  for (int p = v1::Priority_MAX; p > v1::PRIORITY_UNSPECIFIED; --p) {
    v1::PriorityShare& share = *burden.add_by_priority();
    share.set_priority(static_cast<v1::Priority>(p));
    share.set_alerts(static_cast<int>(std::count_if(
        alerts.begin(), alerts.end(),
        [&](const v1::Alert* alert) { return alert->priority() == p; })));
  }
}

void AddRepeats(const Alerts& alerts, v1::Burden& burden) {
  std::map<Subject, int> repeats;
  std::set<std::string> participants;
  for (const v1::Alert* alert : alerts) {
    int& of_subject = repeats[SubjectOf(*alert)];
    of_subject += RepeatsOf(*alert);
    burden.set_repeats(burden.repeats() + RepeatsOf(*alert));
    burden.set_most_repeats(std::max(burden.most_repeats(), of_subject));
    participants.insert(alert->participant());
  }
  burden.set_participants(static_cast<int>(participants.size()));
}

// `alerts`: in order of time, also those raised before `from`.
int RaisedAgain(const Alerts& alerts, absl::Time from) {
  std::map<Subject, absl::Time> latest;
  int again = 0;
  for (const v1::Alert* alert : alerts) {
    const absl::Time raised = RaisedAt(*alert);
    const auto [earlier, first] = latest.try_emplace(SubjectOf(*alert), raised);
    if (!first && raised >= from && alert->reopens().empty() &&
        raised - earlier->second <= kRaisedAgainWithin) {
      ++again;
    }
    earlier->second = raised;
  }
  return again;
}

void AddTimes(const Alerts& alerts, absl::Time now, v1::Burden& burden) {
  std::vector<absl::Duration> to_receive;
  std::vector<absl::Duration> to_close;
  for (const v1::Alert* alert : alerts) {
    const absl::Duration age = now - RaisedAt(*alert);
    const v1::AlertChange* first = FirstInHand(*alert);
    if (first != nullptr) {
      to_receive.push_back(FromProto(first->at()) - RaisedAt(*alert));
    }
    if (const auto ended = EndedAt(*alert)) {
      to_close.push_back(*ended - RaisedAt(*alert));
      continue;
    }
    if (first == nullptr) burden.set_not_received(burden.not_received() + 1);
    if (age > absl::Hours(24)) {
      burden.set_open_over_24_hours(burden.open_over_24_hours() + 1);
    }
  }
  *burden.mutable_to_receive() = SpreadOf(std::move(to_receive));
  *burden.mutable_to_close() = SpreadOf(std::move(to_close));
}

}  // namespace

v1::Burden BurdenOf(const std::vector<v1::Alert>& alerts, const Site& site,
                    absl::Time from, absl::Time to, absl::Time now) {
  v1::Burden burden;
  burden.set_site(site.config.id());
  burden.set_time_zone(site.config.time_zone());
  *burden.mutable_from() = ToProto(from);
  *burden.mutable_to() = ToProto(to);
  *burden.mutable_now() = ToProto(now);
  const absl::Time until = std::max(from, std::min(to, now));
  burden.set_days(absl::FDivDuration(until - from, absl::Hours(24)));

  const Alerts chosen = RaisedWithin(alerts, site.config.id(), from, to);
  burden.set_alerts(static_cast<int>(chosen.size()));
  burden.set_without_action(static_cast<int>(std::count_if(
      chosen.begin(), chosen.end(),
      [&](const v1::Alert* alert) { return WithoutAction(*alert, site); })));
  burden.set_raised_again_within_30_days(RaisedAgain(
      RaisedWithin(alerts, site.config.id(), from - kRaisedAgainWithin, to),
      from));
  AddPriorities(chosen, burden);
  AddRepeats(chosen, burden);
  AddTimes(chosen, now, burden);
  AddPersonLoads(chosen, burden);
  AddRuleLoads(chosen, site, burden);
  AddDayLoads(chosen, from, to, now, site.calendar.zone(), burden);
  return burden;
}

}  // namespace turnstone
