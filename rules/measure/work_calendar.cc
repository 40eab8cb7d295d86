#include "rules/measure/work_calendar.h"

#include <algorithm>
#include <utility>

namespace turnstone {
namespace {

// A holiday list that covers every day must not hang the service.
absl::CivilDay TenYearsAfter(absl::CivilDay day) {
  return absl::CivilDay(day.year() + 10, day.month(), day.day());
}

}  // namespace

absl::Time LocalToAbsolute(absl::CivilSecond local, absl::TimeZone zone) {
  return zone.At(local).pre;
}

WorkCalendar::WorkCalendar(absl::TimeZone zone, std::array<bool, 7> working,
                           std::set<absl::CivilDay> holidays,
                           absl::Duration day_start, absl::Duration day_end)
    : zone_(zone),
      working_(working),
      holidays_(std::move(holidays)),
      day_start_(day_start),
      day_end_(day_end) {}

bool WorkCalendar::IsWorkingDay(absl::CivilDay day) const {
  // absl::Weekday, like working_, begins with Monday.
  const auto weekday = static_cast<size_t>(absl::GetWeekday(day));
  return working_.at(weekday) && holidays_.count(day) == 0;
}

absl::CivilDay WorkCalendar::NextWorkingDay(absl::CivilDay day) const {
  const absl::CivilDay last = TenYearsAfter(day);
  do {
    ++day;
  } while (!IsWorkingDay(day) && day < last);
  return day;
}

absl::Time WorkCalendar::EndOfWorkingDay(absl::Time from, int count) const {
  absl::CivilDay day(absl::ToCivilSecond(from, zone_));
  for (int found = 0; found < count; ++found) day = NextWorkingDay(day);
  return On(day, day_end_);
}

absl::Time WorkCalendar::EndOfDayAfter(absl::Time from, int days) const {
  const absl::CivilDay day(absl::ToCivilSecond(from, zone_));
  return On(NextWorkingDay(day + days - 1), day_end_);
}

absl::Time WorkCalendar::AfterWorkingTime(absl::Time from,
                                          absl::Duration time) const {
  absl::CivilDay day(absl::ToCivilSecond(from, zone_));
  const absl::CivilDay last = TenYearsAfter(day);
  for (; day < last; ++day) {
    if (!IsWorkingDay(day)) continue;
    const absl::Time start = std::max(from, On(day, day_start_));
    const absl::Duration worked = On(day, day_end_) - start;
    if (time <= worked) return start + time;
    // Below zero where the day was over by then.
    time -= std::max(worked, absl::ZeroDuration());
  }
  return On(last, day_end_);
}

absl::Time WorkCalendar::On(absl::CivilDay day,
                            absl::Duration from_midnight) const {
  return LocalToAbsolute(
      absl::CivilSecond(day) + absl::ToInt64Seconds(from_midnight), zone_);
}

}  // namespace turnstone
