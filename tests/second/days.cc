#include "tests/second/days.h"

#include <absl/time/civil_time.h>

#include <cstdlib>

namespace turnstone::second {
namespace {

bool IsWorked(const World& world, absl::CivilDay day) {
  const std::string iso = absl::FormatCivilTime(day);
  for (const std::string& holiday : world.site.calendar().holiday()) {
    if (holiday == iso) return false;
  }
  // Both lists of days begin with Monday, the site's at 1.
  const int weekday = static_cast<int>(absl::GetWeekday(day)) + v1::MONDAY;
  for (const int worked : world.site.calendar().working_day()) {
    if (worked == weekday) return true;
  }
  return false;
}

// A day ends when its work does. Where the clocks change, RFC 5545, 3.3.5.
absl::Time EndOf(const World& world, absl::CivilDay day) {
  const std::string& end = world.site.calendar().day_end();
  const int hour = std::atoi(end.substr(0, 2).c_str());
  const int minute = std::atoi(end.substr(3, 2).c_str());
  return world.zone
      .At(absl::CivilSecond(day.year(), day.month(), day.day(), hour, minute,
                            0))
      .pre;
}

}  // namespace

absl::Time AfterWorkingDays(const World& world, absl::Time from, int count) {
  absl::CivilDay day = absl::ToCivilDay(from, world.zone);
  while (count > 0) {
    ++day;
    if (IsWorked(world, day)) --count;
  }
  return EndOf(world, day);
}

absl::Time AfterDays(const World& world, absl::Time from, int days) {
  absl::CivilDay day = absl::ToCivilDay(from, world.zone) + days;
  while (!IsWorked(world, day)) ++day;
  return EndOf(world, day);
}

absl::Time DayBegins(const World& world, absl::Time time, int days_before) {
  const absl::CivilDay day = absl::ToCivilDay(time, world.zone) - days_before;
  return world.zone.At(absl::CivilSecond(day)).pre;
}

}  // namespace turnstone::second
