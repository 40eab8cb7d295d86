// Working days and clock changes. Dates of changes: IANA time zone database.
#include "rules/measure/work_calendar.h"

#include <absl/strings/str_split.h>
#include <gtest/gtest.h>

#include <fstream>
#include <string>
#include <vector>

#include "tests/measure/moments.h"

namespace turnstone {
namespace {

TEST(LocalToAbsolute, AgreesWithTheTimeZoneCases) {
  // Made with Python's dateutil: fold 0 is the offset before a change, as RFC
  // 5545 section 3.3.5 asks.
  std::ifstream file(TURNSTONE_SOURCE_DIR
                     "/tests/measure/data/time_zone_cases.csv");
  std::string line;
  std::getline(file, line);
  int rows = 0;
  while (std::getline(file, line)) {
    const std::vector<std::string> cell = absl::StrSplit(line, ',');
    ASSERT_EQ(cell.size(), 5U) << line;
    absl::CivilSecond local;
    ASSERT_TRUE(absl::ParseCivilTime(cell[1], &local)) << line;
    EXPECT_EQ(LocalToAbsolute(local, Zone(cell[0])), Moment(cell[3])) << line;
    ++rows;
  }
  EXPECT_EQ(rows, 332);
}

struct EndCase {
  std::string why;
  std::string zone;
  std::array<bool, 7> working;
  absl::Duration day_end;
  std::string from;
  int count;
  std::string expected;
};

class EndOfWorkingDay : public ::testing::TestWithParam<EndCase> {};

TEST_P(EndOfWorkingDay, IsWhereTheCalendarPutsIt) {
  const EndCase& c = GetParam();
  // Wednesday 17 March 2027, a public holiday in Ireland.
  const WorkCalendar calendar(Zone(c.zone), c.working,
                              {absl::CivilDay(2027, 3, 17)},
                              absl::ZeroDuration(), c.day_end);
  EXPECT_EQ(calendar.EndOfWorkingDay(Moment(c.from), c.count),
            Moment(c.expected))
      << c.why;
}

// Expected ends: counted on a printed calendar.
INSTANTIATE_TEST_SUITE_P(
    Days, EndOfWorkingDay,
    ::testing::Values(
        EndCase{"the day after", "Europe/Dublin", kWeekdays, absl::Hours(17),
                "2027-03-15T09:00:00Z", 1, "2027-03-16T17:00:00Z"},
        EndCase{"over a holiday", "Europe/Dublin", kWeekdays, absl::Hours(17),
                "2027-03-16T09:00:00Z", 1, "2027-03-18T17:00:00Z"},
        EndCase{"over a weekend", "Europe/Dublin", kWeekdays, absl::Hours(17),
                "2027-03-12T09:00:00Z", 1, "2027-03-15T17:00:00Z"},
        EndCase{"third day, over weekend and holiday", "Europe/Dublin",
                kWeekdays, absl::Hours(17), "2027-03-12T09:00:00Z", 3,
                "2027-03-18T17:00:00Z"},
        EndCase{"a Sunday belongs to no working day", "Europe/Dublin",
                kWeekdays, absl::Hours(17), "2027-03-14T12:00:00Z", 1,
                "2027-03-15T17:00:00Z"},
        EndCase{"minutes count", "Europe/Dublin", kWeekdays,
                absl::Hours(17) + absl::Minutes(45), "2027-03-15T09:00:00Z", 1,
                "2027-03-16T17:45:00Z"},
        EndCase{"24:00 is the next midnight", "Europe/Dublin", kWeekdays,
                absl::Hours(24), "2027-03-15T09:00:00Z", 1,
                "2027-03-17T00:00:00Z"},
        EndCase{"the local day, not the day in Greenwich", "Europe/Dublin",
                kWeekdays, absl::Hours(17), "2025-06-30T23:30:00Z", 1,
                "2025-07-02T16:00:00Z"},
        EndCase{"west of Greenwich it is still Monday", "America/New_York",
                kWeekdays, absl::Hours(17), "2025-07-01T02:00:00Z", 1,
                "2025-07-01T21:00:00Z"},
        EndCase{"over the end of February in a leap year", "Europe/Dublin",
                kWeekdays, absl::Hours(17), "2028-02-28T09:00:00Z", 2,
                "2028-03-01T17:00:00Z"}));

INSTANTIATE_TEST_SUITE_P(
    ClockChanges, EndOfWorkingDay,
    ::testing::Values(
        EndCase{"clocks went forward in between", "Europe/London", kWeekdays,
                absl::Hours(17), "2025-03-28T12:00:00Z", 1,
                "2025-03-31T16:00:00Z"},
        EndCase{"clocks went back in between", "Europe/London", kWeekdays,
                absl::Hours(17), "2025-10-24T12:00:00Z", 1,
                "2025-10-27T17:00:00Z"},
        EndCase{"17:00 on the day of the change itself", "Europe/London",
                kEveryDay, absl::Hours(17), "2025-03-29T12:00:00Z", 1,
                "2025-03-30T16:00:00Z"},
        EndCase{"01:30 does not exist: offset before the change",
                "Europe/London", kEveryDay, absl::Minutes(90),
                "2025-03-29T12:00:00Z", 1, "2025-03-30T01:30:00Z"},
        EndCase{"01:30 exists twice: the first", "Europe/London", kEveryDay,
                absl::Minutes(90), "2025-10-25T12:00:00Z", 1,
                "2025-10-26T00:30:00Z"}));

TEST(WorkCalendar, KnowsWorkingDays) {
  const WorkCalendar calendar(absl::UTCTimeZone(), kWeekdays,
                              {absl::CivilDay(2027, 3, 17)}, absl::Hours(9),
                              absl::Hours(17));
  EXPECT_EQ(calendar.zone(), absl::UTCTimeZone());
  // 15 March 2027 is a Monday.
  EXPECT_TRUE(calendar.IsWorkingDay(absl::CivilDay(2027, 3, 15)));
  EXPECT_FALSE(calendar.IsWorkingDay(absl::CivilDay(2027, 3, 17)));
  EXPECT_TRUE(calendar.IsWorkingDay(absl::CivilDay(2027, 3, 19)));
  EXPECT_FALSE(calendar.IsWorkingDay(absl::CivilDay(2027, 3, 20)));
  EXPECT_FALSE(calendar.IsWorkingDay(absl::CivilDay(2027, 3, 21)));
}

// Calendar by hand: 4 January 2027 is a Monday.
TEST(WorkCalendar, EndOfDayAfterMovesOnToAWorkingDay) {
  const WorkCalendar calendar(absl::UTCTimeZone(), kWeekdays,
                              {absl::CivilDay(2027, 2, 1)}, absl::Hours(9),
                              absl::Hours(17));
  const absl::Time monday = Moment("2027-01-04T20:00:00Z");
  EXPECT_EQ(calendar.EndOfDayAfter(monday, 0), Moment("2027-01-04T17:00:00Z"));
  EXPECT_EQ(calendar.EndOfDayAfter(monday, 4), Moment("2027-01-08T17:00:00Z"));
  // A Saturday, a Sunday, and a Monday on which nobody works.
  EXPECT_EQ(calendar.EndOfDayAfter(monday, 5), Moment("2027-01-11T17:00:00Z"));
  EXPECT_EQ(calendar.EndOfDayAfter(monday, 6), Moment("2027-01-11T17:00:00Z"));
  EXPECT_EQ(calendar.EndOfDayAfter(monday, 28), Moment("2027-02-02T17:00:00Z"));
}

TEST(WorkCalendar, GivesUpTenYearsOn) {
  // Our own limit, so that a calendar of holidays alone cannot hang.
  std::set<absl::CivilDay> holidays;
  for (absl::CivilDay day(2027, 3, 15); day < absl::CivilDay(2038, 1, 1);
       ++day) {
    holidays.insert(day);
  }
  const WorkCalendar calendar(absl::UTCTimeZone(), kEveryDay, holidays,
                              absl::Hours(9), absl::Hours(17));
  EXPECT_EQ(calendar.EndOfWorkingDay(Moment("2027-03-15T09:00:00Z"), 1),
            Moment("2037-03-15T17:00:00Z"));
}

}  // namespace
}  // namespace turnstone
