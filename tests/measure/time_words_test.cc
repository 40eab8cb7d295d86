#include "rules/measure/time_words.h"

#include <gtest/gtest.h>

namespace turnstone {
namespace {

// By hand: 3 February 2027 is a Wednesday.
TEST(TimeWordsTest, InTheZoneGiven) {
  absl::TimeZone dublin;
  ASSERT_TRUE(absl::LoadTimeZone("Europe/Dublin", &dublin));
  const absl::Time winter = absl::FromUnixSeconds(1801645200);  // 09:00 UTC
  EXPECT_EQ(DayInWords(winter, dublin), "3 Feb 2027");
  EXPECT_EQ(MomentInWords(winter, dublin), "Wed 3 Feb 2027 09:00");
  // 23:30 UTC on 30 June is the next day in Irish summer time.
  const absl::Time summer = absl::FromUnixSeconds(1814398200);
  EXPECT_EQ(MomentInWords(summer, dublin), "Thu 1 Jul 2027 00:30");
}

}  // namespace
}  // namespace turnstone
