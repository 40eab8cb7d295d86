#include "rules/check/check_calendar.h"

#include <absl/strings/str_cat.h>

#include "rules/check/check_times.h"
#include "rules/check/require.h"

namespace turnstone {

void CheckCalendar(const v1::Calendar& calendar, const Place& place) {
  if (calendar.working_day().empty()) {
    place.Report("no-working-day", "the calendar has no working day",
                 "write calendar { working_day: MONDAY ... }");
  }
  Names days("working day");
  for (int i = 0; i < calendar.working_day_size(); ++i) {
    const Place at = place.At("working_day", i);
    if (calendar.working_day(i) == v1::WEEKDAY_UNSPECIFIED) {
      at.Report("choice-missing", "WEEKDAY_UNSPECIFIED is no day",
                "write MONDAY to SUNDAY");
    }
    days.Add(at, v1::Weekday_Name(calendar.working_day(i)));
  }
  const std::string& start = calendar.day_start();
  const std::string& end = calendar.day_end();
  const Place start_place = place.At("day_start");
  const bool starts = CheckTimeOfDay(start_place, "day_start", start, kBegins);
  const bool ends = CheckTimeOfDay(place.At("day_end"), "day_end", end, kEnds);
  if (starts && ends && start >= end) {
    start_place.Report("ends-before-it-begins",
                       absl::StrCat("day_start \"", start,
                                    "\" is not before day_end \"", end, "\""),
                       "write an earlier one");
  }
  Names holidays("holiday");
  for (int i = 0; i < calendar.holiday_size(); ++i) {
    const Place at = place.At("holiday", i);
    CheckDate(at, "holiday", calendar.holiday(i));
    holidays.Add(at, calendar.holiday(i));
  }
}

}  // namespace turnstone
