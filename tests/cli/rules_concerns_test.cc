// What a configuration will need. Source: duty.proto and site.proto
// (review_by); the clocks of Dublin and Auckland from the IANA time zone
// database. The words are our own.
#include "clients/cli/rules_concerns.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "clients/cli/render/time.h"
#include "tests/cli/program.h"

namespace turnstone::cli {
namespace {

using testing::HasSubstr;
using testing::Not;

std::string Utc(absl::Time time) {
  return absl::FormatTime(absl::RFC3339_sec, time, absl::UTCTimeZone());
}

TEST(LookFrom, IsNowOrTheBeginningOfADayOfTheSite) {
  const absl::Time now = absl::FromUnixSeconds(86399);
  EXPECT_EQ(ParseLookFrom("", now).value()(Zone("Europe/Dublin")), now);
  const LookFrom day = ParseLookFrom("2027-02-06", now).value();
  EXPECT_EQ(Utc(day(Zone("Europe/Dublin"))), "2027-02-06T00:00:00+00:00");
  EXPECT_EQ(Utc(day(Zone("Pacific/Auckland"))), "2027-02-05T11:00:00+00:00");
}

TEST(LookFrom, SaysWhatToWrite) {
  for (const std::string text : {"soon", "2027-02-30", "2027-2-6", "06.02.2027",
                                 "99999-01-01", "2027-02-06T09:00:00Z"}) {
    EXPECT_EQ(ParseLookFrom(text, absl::UnixEpoch()).status().message(),
              "--at is not a day; write it as 2027-02-06, or leave it out for "
              "today")
        << text;
  }
}

TEST(Concerns, AreForAPersonOrAProgram) {
  const std::vector<SiteConcern> concerns = {
      {"bay", "protocol p: its review was due by 2026-12-31"},
      {"mill", "\x1b[2J\"quoted\""}};
  EXPECT_EQ(ConcernsText(concerns, /*json=*/false),
            "to see to: bay: protocol p: its review was due by 2026-12-31\n"
            "to see to: mill: \\u001b[2J\"quoted\"\n");
  EXPECT_EQ(ConcernsText(concerns, /*json=*/true),
            "{\"site\":\"bay\",\"concern\":\"protocol p: its review was due by "
            "2026-12-31\"}\n"
            "{\"site\":\"mill\",\"concern\":\"\\u001b[2J\\\"quoted\\\"\"}\n");
}

// The shipped site, long before and long after its protocols' reviews.
class CheckShipped : public testing::Test {
 protected:
  static Outcome Check(const std::vector<std::string>& more) {
    const std::string root = TURNSTONE_SOURCE_DIR;
    std::vector<std::string> words = {"rules", "check", root + "/rules",
                                      root + "/deploy/config"};
    words.insert(words.end(), more.begin(), more.end());
    Program program;
    program.now =
        absl::FromCivil(absl::CivilDay(2099, 1, 1), absl::UTCTimeZone());
    return program.RunAsWritten(words);
  }
};

TEST_F(CheckShipped, TellsWhatIsToBeSeenToAndIsGood) {
  const Outcome late = Check({"--at", "2099-01-01"});
  EXPECT_EQ(late.code, 0) << late.out << late.err;
  EXPECT_THAT(late.out, HasSubstr("to see to: pebble-bay: "));
  EXPECT_THAT(late.out, HasSubstr("\ngood: "));
  EXPECT_EQ(Check({}).out, late.out) << "today is the program's";
  const Outcome early = Check({"--at", "2027-01-11"});
  EXPECT_EQ(early.code, 0);
  EXPECT_THAT(early.out, Not(HasSubstr("review was due")));
}

TEST_F(CheckShipped, RefusesItWhereThatIsAskedFor) {
  const Outcome late = Check({"--at", "2099-01-01", "--strict"});
  EXPECT_EQ(late.code, 1);
  EXPECT_THAT(late.out, HasSubstr("\nrefused, as --strict asks: "));
  EXPECT_THAT(late.out, Not(HasSubstr("good: ")));
  EXPECT_THAT(Check({"--at", "2099-01-01", "--json"}).out,
              HasSubstr(R"({"site":"pebble-bay","concern":")"));
}

TEST_F(CheckShipped, NeedsADay) {
  const Outcome outcome = Check({"--at", "Friday"});
  EXPECT_EQ(outcome.code, 2);
  EXPECT_THAT(outcome.err, HasSubstr("write it as 2027-02-06"));
}

}  // namespace
}  // namespace turnstone::cli
