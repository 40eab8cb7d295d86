// Source: the IANA time zone database; weekdays from a calendar of 2027 (ISO
// 8601).
#include "clients/cli/render/time.h"

#include <gtest/gtest.h>

#include <string>

namespace turnstone::cli {
namespace {

std::string Shown(const std::string& utc, const std::string& zone) {
  absl::Time time;
  std::string error;
  EXPECT_TRUE(absl::ParseTime(absl::RFC3339_full, utc, &time, &error)) << error;
  return DateTime(time, Zone(zone));
}

TEST(Time, IsShownInTheZoneWithItsAbbreviation) {
  EXPECT_EQ(Shown("2027-03-03T14:05:59Z", "Europe/Dublin"),
            "Wed 3 Mar 2027 14:05 GMT");
  EXPECT_EQ(Shown("2027-12-31T23:30:00Z", "Europe/Berlin"),
            "Sat 1 Jan 2028 00:30 CET");
  EXPECT_EQ(Shown("2027-03-03T14:05:00Z", "Nowhere/AtAll"),
            "Wed 3 Mar 2027 14:05 UTC");
}

// Dublin goes forward on 28 March 2027 at 01:00 UTC and back on 31 October.
TEST(Time, CrossesAChangeOfTheClocks) {
  EXPECT_EQ(Shown("2027-03-28T00:59:00Z", "Europe/Dublin"),
            "Sun 28 Mar 2027 00:59 GMT");
  EXPECT_EQ(Shown("2027-03-28T01:00:00Z", "Europe/Dublin"),
            "Sun 28 Mar 2027 02:00 IST");
  EXPECT_EQ(Shown("2027-10-31T00:30:00Z", "Europe/Dublin"),
            "Sun 31 Oct 2027 01:30 IST");
  EXPECT_EQ(Shown("2027-10-31T01:30:00Z", "Europe/Dublin"),
            "Sun 31 Oct 2027 01:30 GMT");
}

TEST(Time, NamesDaysAndTimeLeft) {
  EXPECT_EQ(Day(absl::UnixEpoch(), absl::UTCTimeZone()), "Thu 1 Jan 1970");
  EXPECT_EQ(TimeLeft(absl::Minutes(20)), "20 min");
  EXPECT_EQ(TimeLeft(absl::Seconds(1)), "under 1 min");
  EXPECT_EQ(TimeLeft(absl::ZeroDuration()), "due now");
  EXPECT_EQ(TimeLeft(-absl::Hours(1)), "due now");
}

TEST(Time, AgesAreInPlainWords) {
  EXPECT_EQ(Age(-absl::Hours(1)), "under 1 min");
  EXPECT_EQ(Age(absl::Seconds(59)), "under 1 min");
  EXPECT_EQ(Age(absl::Seconds(60)), "1 min");
  EXPECT_EQ(Age(absl::Minutes(59)), "59 min");
  EXPECT_EQ(Age(absl::Minutes(60)), "1 h 0 min");
  EXPECT_EQ(Age(absl::Minutes(130)), "2 h 10 min");
  EXPECT_EQ(Age(absl::Hours(24) - absl::Minutes(1)), "23 h 59 min");
  EXPECT_EQ(Age(absl::Hours(24)), "1 d 0 h");
  EXPECT_EQ(Age(absl::Hours(76)), "3 d 4 h");
}

}  // namespace
}  // namespace turnstone::cli
