#include "rules/check/check_times.h"

#include <absl/strings/str_cat.h>

#include "rules/duty/written_time.h"

namespace turnstone {
namespace {

// `what` it is to be: "a date".
bool Refuse(const Place& place, const std::string& field,
            const std::string& text, const std::string& what,
            const std::string& advice) {
  place.Report(text.empty() ? "text-missing" : "time-unreadable",
               text.empty()
                   ? absl::StrCat(field, " is missing or empty")
                   : absl::StrCat(field, " \"", text, "\" is not ", what),
               advice);
  return false;
}

}  // namespace

bool CheckDate(const Place& place, const std::string& field,
               const std::string& text) {
  if (ReadDay(text)) return true;
  return Refuse(place, field, text, "a date",
                "write year, month and day, such as \"2027-03-17\"");
}

bool CheckTimeOfDay(const Place& place, const std::string& field,
                    const std::string& text, const TimesOfDay& times) {
  // Of the same length throughout, so that letters sort as times do.
  if (ReadTimeOfDay(text) && times.first <= text && text <= times.last) {
    return true;
  }
  return Refuse(
      place, field, text, "a time of day",
      absl::StrCat("write hours and minutes from \"", times.first, "\" to \"",
                   times.last, "\", such as \"", times.such_as, "\""));
}

bool CheckLocalTime(const Place& place, const std::string& field,
                    const std::string& text) {
  if (ReadLocalTime(text)) return true;
  return Refuse(place, field, text, "a date and a time of day",
                "write both, such as \"2027-02-06T09:00\"");
}

}  // namespace turnstone
