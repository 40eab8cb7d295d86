// Dates and times of day, as people write them in a site's file.
#pragma once

#include <string>

#include "rules/check/place.h"

namespace turnstone {

// The first and the last that will do, and one for advice: "HH:MM".
struct TimesOfDay {
  const char* first;
  const char* last;
  const char* such_as;
};
inline constexpr TimesOfDay kBegins{"00:00", "23:59", "09:00"};
inline constexpr TimesOfDay kEnds{"00:01", "24:00", "17:30"};

// Each reports at `place` unless `text`, the value of `field`, is as it must
// be, and says whether it is.

// An ISO 8601 date that exists.
bool CheckDate(const Place& place, const std::string& field,
               const std::string& text);
// A time of day within `times`.
bool CheckTimeOfDay(const Place& place, const std::string& field,
                    const std::string& text, const TimesOfDay& times);
// A date and a time of day, "2027-02-06T09:00".
bool CheckLocalTime(const Place& place, const std::string& field,
                    const std::string& text);

}  // namespace turnstone
