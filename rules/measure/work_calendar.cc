#include "rules/measure/work_calendar.h"

#include <utility>

namespace turnstone {

absl::Time LocalToAbsolute(absl::CivilSecond local, absl::TimeZone zone) {
  return zone.At(local).pre;
}

WorkCalendar::WorkCalendar(absl::TimeZone zone, std::array<bool, 7> working,
                           std::set<absl::CivilDay> holidays,
                           absl::Duration day_end)
    : zone_(zone),
      working_(working),
      holidays_(std::move(holidays)),
      day_end_(day_end) {}

bool WorkCalendar::IsWorkingDay(absl::CivilDay day) const {
  // absl::Weekday, like working_, begins with Monday.
  const auto weekday = static_cast<size_t>(absl::GetWeekday(day));
  return working_.at(weekday) && holidays_.count(day) == 0;
}

absl::CivilDay WorkCalendar::NextWorkingDay(absl::CivilDay day) const {
  // A holiday list that covers every day must not hang the service.
  const absl::CivilDay last(day.year() + 10, day.month(), day.day());
  do {
    ++day;
  } while (!IsWorkingDay(day) && day < last);
  return day;
}

absl::Time WorkCalendar::EndOfWorkingDay(absl::Time from, int count) const {
  absl::CivilDay day(absl::ToCivilSecond(from, zone_));
  for (int found = 0; found < count; ++found) day = NextWorkingDay(day);
  return EndOf(day);
}

absl::Time WorkCalendar::EndOfDayAfter(absl::Time from, int days) const {
  const absl::CivilDay day(absl::ToCivilSecond(from, zone_));
  return EndOf(NextWorkingDay(day + days - 1));
}

absl::Time WorkCalendar::EndOf(absl::CivilDay day) const {
  return LocalToAbsolute(
      absl::CivilSecond(day) + absl::ToInt64Seconds(day_end_), zone_);
}

}  // namespace turnstone
