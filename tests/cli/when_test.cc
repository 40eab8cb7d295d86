// Source: RFC 3339 section 5.6; the clock changes of 2027 in Dublin (28 March,
// 31 October) from the IANA time zone database. The words are our own.
#include "clients/cli/when.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <string>

#include "clients/cli/render/time.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;

const absl::Time kAskedAt = absl::FromCivil(
    absl::CivilSecond(2027, 3, 3, 14, 5, 0), absl::UTCTimeZone());

std::string Read(const std::string& text, bool with_zone) {
  const auto time =
      with_zone ? ParseWhen("--until", text, kAskedAt, Zone("Europe/Dublin"))
                : ParseWhen("--until", text, kAskedAt);
  if (!time.ok()) return std::string(time.status().message());
  return absl::FormatTime(absl::RFC3339_full, *time, absl::UTCTimeZone());
}

TEST(When, IsAMomentOrASpanFromNow) {
  for (const bool with_zone : {false, true}) {
    EXPECT_EQ(Read("2027-02-06T09:00:00Z", with_zone),
              "2027-02-06T09:00:00+00:00");
    EXPECT_EQ(Read("2027-02-06T09:00:00+05:30", with_zone),
              "2027-02-06T03:30:00+00:00");
    EXPECT_EQ(Read("26h", with_zone), "2027-03-04T16:05:00+00:00");
    EXPECT_EQ(Read("3d", with_zone), "2027-03-06T14:05:00+00:00");
  }
}

TEST(When, IsLocalWhereTheZoneIsKnown) {
  EXPECT_EQ(Read("2027-02-06 09:00", true), "2027-02-06T09:00:00+00:00");
  EXPECT_EQ(Read("2027-07-06 09:00", true), "2027-07-06T08:00:00+00:00");
  EXPECT_EQ(Read("2027-02-06 09:00", false),
            "--until is not a time;\nwrite a moment such as "
            "2027-02-06T09:00:00Z, or how long from now, such as 26h or 3d");
}

TEST(When, RefusesWhatAClockChangeSkipsOrRepeats) {
  EXPECT_EQ(Read("2027-03-28 01:30", true),
            "--until does not come: the clocks go forward over it;\nwrite "
            "2027-03-28T02:30:00+01:00");
  EXPECT_EQ(Read("2027-10-31 01:30", true),
            "--until comes twice: the clocks go back over it;\nwrite "
            "2027-10-31T01:30:00+01:00 or 2027-10-31T01:30:00+00:00");
}

TEST(When, SaysWhatToWriteInstead) {
  for (const std::string text : {"",
                                 "soon",
                                 "tomorrow",
                                 "9",
                                 "09:00",
                                 "2027-02-06",
                                 "0h",
                                 "-3d",
                                 "3 d",
                                 "2027-02-30T09:00:00Z",
                                 "2027-02-06T09:00:00",
                                 "2027-02-06T25:00:00Z",
                                 "2027-02-30 09:00",
                                 "2027-02-06 24:30",
                                 "2027-2-6 9:00",
                                 "infinite-future",
                                 "99999-01-01T00:00:00Z",
                                 "06.02.2027 09:00",
                                 "2027-02-06 09:00:00Z",
                                 "\x1b[2J",
                                 "26h\n"}) {
    EXPECT_EQ(Read(text, true),
              "--until is not a time;\nwrite a moment such as "
              "2027-02-06T09:00:00Z, the site's own time such as\n"
              "\"2027-02-06 09:00\", or how long from now, such as 26h or 3d")
        << text;
    EXPECT_THAT(Read(text, false), HasSubstr("--until is not a time")) << text;
  }
}

}  // namespace
}  // namespace turnstone::cli
