#include "rules/check/check_calendar.h"

#include <absl/strings/ascii.h>
#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include "rules/check/require.h"

namespace turnstone {
namespace {

// "HH:MM", from 00:01 to 24:00.
bool IsDayEnd(const std::string& text) {
  if (text.size() != 5 || text[2] != ':') return false;
  for (const size_t digit : {0U, 1U, 3U, 4U}) {
    if (!absl::ascii_isdigit(static_cast<unsigned char>(text[digit]))) {
      return false;
    }
  }
  int hours = 0;
  int minutes = 0;
  (void)absl::SimpleAtoi(text.substr(0, 2), &hours);
  (void)absl::SimpleAtoi(text.substr(3, 2), &minutes);
  const int total = 60 * hours + minutes;
  return minutes < 60 && 1 <= total && total <= 24 * 60;
}

// Written in full and existing: parsing and writing give the text back.
bool IsDate(const std::string& text) {
  absl::CivilDay day;
  return absl::ParseCivilTime(text, &day) && absl::FormatCivilTime(day) == text;
}

}  // namespace

void CheckDate(const Place& place, const std::string& field,
               const std::string& text) {
  if (IsDate(text)) return;
  place.Report(text.empty()
                   ? absl::StrCat(field, " is missing or empty")
                   : absl::StrCat(field, " \"", text, "\" is not a date"),
               "write year, month and day, such as \"2027-03-17\"");
}

void CheckCalendar(const v1::Calendar& calendar, const Place& place) {
  if (calendar.working_day().empty()) {
    place.Report("the calendar has no working day",
                 "write calendar { working_day: MONDAY ... }");
  }
  Names days("working day");
  for (int i = 0; i < calendar.working_day_size(); ++i) {
    const Place at = place.At("working_day", i);
    if (calendar.working_day(i) == v1::WEEKDAY_UNSPECIFIED) {
      at.Report("WEEKDAY_UNSPECIFIED is no day", "write MONDAY to SUNDAY");
    }
    days.Add(at, v1::Weekday_Name(calendar.working_day(i)));
  }
  if (!IsDayEnd(calendar.day_end())) {
    place.At("day_end").Report(
        calendar.day_end().empty()
            ? "day_end is missing or empty"
            : absl::StrCat("day_end \"", calendar.day_end(),
                           "\" is not a time of day"),
        "write hours and minutes from \"00:01\" to \"24:00\", such as "
        "\"17:30\"");
  }
  Names holidays("holiday");
  for (int i = 0; i < calendar.holiday_size(); ++i) {
    const Place at = place.At("holiday", i);
    CheckDate(at, "holiday", calendar.holiday(i));
    holidays.Add(at, calendar.holiday(i));
  }
}

}  // namespace turnstone
