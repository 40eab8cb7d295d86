// Zones and moments by name, for tests of working days.
#pragma once

#include <absl/time/time.h>
#include <gtest/gtest.h>

#include <array>
#include <string>

namespace turnstone {

// Monday first, as WorkCalendar has them.
inline constexpr std::array<bool, 7> kWeekdays = {true, true,  true, true,
                                                  true, false, false};
inline constexpr std::array<bool, 7> kEveryDay = {true, true, true, true,
                                                  true, true, true};

inline absl::TimeZone Zone(const std::string& name) {
  absl::TimeZone zone;
  EXPECT_TRUE(absl::LoadTimeZone(name, &zone)) << name;
  return zone;
}

// "2027-01-04T10:00:00Z".
inline absl::Time Moment(const std::string& text) {
  absl::Time time;
  std::string error;
  EXPECT_TRUE(absl::ParseTime(absl::RFC3339_full, text, &time, &error))
      << text << " " << error;
  return time;
}

}  // namespace turnstone
