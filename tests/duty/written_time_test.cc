// Days and times as a file writes them. Expectations: ISO 8601 as the comments
// of site.proto and duty.proto use it.
#include "rules/duty/written_time.h"

#include <gtest/gtest.h>

namespace turnstone {
namespace {

TEST(WrittenTime, Days) {
  EXPECT_EQ(ReadDay("2028-02-29"), absl::CivilDay(2028, 2, 29));
  for (const char* text : {"", "2027-02-29", "2027-2-28", "2027-02-28T10:00",
                           " 2027-02-28", "28.02.2027"}) {
    EXPECT_EQ(ReadDay(text), std::nullopt) << text;
  }
}

TEST(WrittenTime, TimesOfDay) {
  EXPECT_EQ(ReadTimeOfDay("00:00"), absl::ZeroDuration());
  EXPECT_EQ(ReadTimeOfDay("09:05"), absl::Hours(9) + absl::Minutes(5));
  EXPECT_EQ(ReadTimeOfDay("24:00"), absl::Hours(24));
  for (const char* text :
       {"", "24:01", "25:00", "09:60", "9:05", "09:5", "09.05", "09:05:00",
        "-9:05", "+9:05", "09: 5", "5:30 pm"}) {
    EXPECT_EQ(ReadTimeOfDay(text), std::nullopt) << text;
  }
}

TEST(WrittenTime, LocalTimes) {
  EXPECT_EQ(ReadLocalTime("2027-02-06T09:05"),
            absl::CivilMinute(2027, 2, 6, 9, 5));
  for (const char* text :
       {"", "2027-02-06", "2027-02-06 09:05", "2027-02-06T24:00",
        "2027-02-30T09:05", "2027-02-06T09:05:00", "2027-02-06T09:05Z"}) {
    EXPECT_EQ(ReadLocalTime(text), std::nullopt) << text;
  }
}

}  // namespace
}  // namespace turnstone
