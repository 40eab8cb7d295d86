#include "tests/faults/ladder_model.h"

#include <absl/time/civil_time.h>

#include <algorithm>

#include "rules/measure/proto_time.h"

namespace turnstone::faults {
namespace {

// All sites of the simulation work from Monday to Friday, 09:00 to 17:00.
constexpr int kDayStart = 9;
constexpr int kDayEnd = 17;

bool IsWorkday(absl::CivilDay day, const v1::SiteConfig& site) {
  const absl::Weekday weekday = absl::GetWeekday(day);
  const auto& holidays = site.calendar().holiday();
  return weekday != absl::Weekday::saturday &&
         weekday != absl::Weekday::sunday &&
         std::find(holidays.begin(), holidays.end(),
                   absl::FormatCivilTime(day)) == holidays.end();
}

// Clocks do not change between 09:00 and 17:00.
absl::Time HourOf(absl::CivilDay day, int hour, absl::TimeZone zone) {
  return absl::FromCivil(absl::CivilSecond(day) + int64_t{hour} * 3600, zone);
}

absl::Time AfterHoursOfWork(absl::Time from, absl::Duration left,
                            const v1::SiteConfig& site, absl::TimeZone zone) {
  for (absl::CivilDay day = absl::ToCivilDay(from, zone);; ++day) {
    if (!IsWorkday(day, site)) continue;
    const absl::Time begin = std::max(from, HourOf(day, kDayStart, zone));
    const absl::Time end = HourOf(day, kDayEnd, zone);
    if (begin >= end) continue;
    if (begin + left <= end) return begin + left;
    left -= end - begin;
  }
}

absl::Time AfterDaysOfWork(absl::Time from, int days,
                           const v1::SiteConfig& site, absl::TimeZone zone) {
  absl::CivilDay day = absl::ToCivilDay(from, zone);
  while (days > 0) {
    ++day;
    if (IsWorkday(day, site)) --days;
  }
  return HourOf(day, kDayEnd, zone);
}

absl::Time After(const v1::Wait& wait, absl::Time from,
                 const v1::SiteConfig& site) {
  absl::TimeZone zone;
  absl::LoadTimeZone(site.time_zone(), &zone);
  if (wait.has_minutes()) return from + absl::Minutes(wait.minutes());
  if (wait.has_hours()) return from + absl::Hours(wait.hours());
  if (wait.has_working_hours()) {
    return AfterHoursOfWork(from, absl::Hours(wait.working_hours()), site,
                            zone);
  }
  if (wait.has_working_days()) {
    return AfterDaysOfWork(from, wait.working_days(), site, zone);
  }
  return from;
}

// At the sites of the simulation the priority alone decides.
const v1::Ladder* LadderOf(const v1::Alert& alert, const v1::SiteConfig& site) {
  for (const v1::Ladder& ladder : site.ladder()) {
    const auto& fits = ladder.priority();
    if (std::find(fits.begin(), fits.end(), alert.priority()) != fits.end()) {
      return &ladder;
    }
  }
  return nullptr;
}

}  // namespace

const v1::SiteConfig* SiteNamed(const std::string& site,
                                const v1::Configuration& configuration) {
  for (const v1::SiteConfig& one : configuration.site()) {
    if (one.id() == site) return &one;
  }
  return nullptr;
}

const v1::Climb* ClimbUnderway(const v1::Alert& alert,
                               const v1::SiteConfig& site) {
  if (alert.status() == v1::ALERT_STATUS_ON_HOLD) return nullptr;
  const v1::Ladder* const ladder = LadderOf(alert, site);
  return alert.status() == v1::ALERT_STATUS_REQUESTED
             ? &ladder->until_received()
             : &ladder->until_closed();
}

absl::Time DeadlineByFile(const v1::Alert& alert, const v1::SiteConfig& site) {
  const v1::Climb* const climb = ClimbUnderway(alert, site);
  if (climb == nullptr) return FromProto(alert.hold().until());
  const int reached = alert.escalation().rungs_reached();
  return After(reached < climb->rung_size() ? climb->rung(reached).after()
                                            : climb->repeat_every(),
               FromProto(alert.escalation().counted_from()), site);
}

}  // namespace turnstone::faults
