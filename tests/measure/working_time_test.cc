// Time that runs only while a site works. Expected moments: counted by hand on
// a printed calendar; dates of clock changes: IANA time zone database.
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "rules/measure/work_calendar.h"
#include "tests/measure/moments.h"

namespace turnstone {
namespace {

struct WorkedCase {
  std::string why;
  std::array<bool, 7> working;
  absl::Duration day_start;
  absl::Duration day_end;
  std::string from;
  absl::Duration time;
  std::string expected;
};

class AfterWorkingTime : public ::testing::TestWithParam<WorkedCase> {};

TEST_P(AfterWorkingTime, RunsOnlyWhileTheSiteWorks) {
  const WorkedCase& c = GetParam();
  // Wednesday 17 March 2027, a public holiday in Ireland.
  const WorkCalendar calendar(Zone("Europe/Dublin"), c.working,
                              {absl::CivilDay(2027, 3, 17)}, c.day_start,
                              c.day_end);
  EXPECT_EQ(calendar.AfterWorkingTime(Moment(c.from), c.time),
            Moment(c.expected))
      << c.why;
}

constexpr absl::Duration kNine = absl::Hours(9);
constexpr absl::Duration kFive = absl::Hours(17);

INSTANTIATE_TEST_SUITE_P(
    Days, AfterWorkingTime,
    ::testing::Values(WorkedCase{"within a day", kWeekdays, kNine, kFive,
                                 "2027-03-15T09:30:00Z", absl::Hours(2),
                                 "2027-03-15T11:30:00Z"},
                      WorkedCase{"from before the day begins", kWeekdays, kNine,
                                 kFive, "2027-03-15T07:00:00Z", absl::Hours(2),
                                 "2027-03-15T11:00:00Z"},
                      WorkedCase{"up to the very end of the day", kWeekdays,
                                 kNine, kFive, "2027-03-15T15:00:00Z",
                                 absl::Hours(2), "2027-03-15T17:00:00Z"},
                      WorkedCase{"a second more is the next morning", kWeekdays,
                                 kNine, kFive, "2027-03-15T15:00:00Z",
                                 absl::Hours(2) + absl::Seconds(1),
                                 "2027-03-16T09:00:01Z"},
                      WorkedCase{"from the evening", kWeekdays, kNine, kFive,
                                 "2027-03-15T20:00:00Z", absl::Hours(1),
                                 "2027-03-16T10:00:00Z"},
                      WorkedCase{"over a holiday", kWeekdays, kNine, kFive,
                                 "2027-03-16T16:00:00Z", absl::Hours(2),
                                 "2027-03-18T10:00:00Z"},
                      WorkedCase{"over a weekend", kWeekdays, kNine, kFive,
                                 "2027-03-12T16:30:00Z", absl::Hours(1),
                                 "2027-03-15T09:30:00Z"},
                      WorkedCase{"25 days of eight hours, one holiday between",
                                 kWeekdays, kNine, kFive,
                                 "2027-03-01T09:00:00Z", absl::Hours(200),
                                 "2027-04-05T16:00:00Z"},
                      WorkedCase{"round the clock there is no pause", kEveryDay,
                                 absl::ZeroDuration(), absl::Hours(24),
                                 "2027-03-15T20:00:00Z", absl::Hours(9),
                                 "2027-03-16T05:00:00Z"}));

INSTANTIATE_TEST_SUITE_P(
    ClockChanges, AfterWorkingTime,
    ::testing::Values(
        WorkedCase{"clocks go forward over the weekend", kWeekdays, kNine,
                   kFive, "2027-03-26T16:00:00Z", absl::Hours(2),
                   "2027-03-29T09:00:00Z"},
        WorkedCase{"clocks go back over the weekend", kWeekdays, kNine, kFive,
                   "2027-10-29T15:00:00Z", absl::Hours(2),
                   "2027-11-01T10:00:00Z"},
        WorkedCase{"00:00 to 06:00 holds five hours on 28 March", kEveryDay,
                   absl::ZeroDuration(), absl::Hours(6), "2027-03-27T23:00:00Z",
                   absl::Hours(5) + absl::Minutes(30), "2027-03-28T23:30:00Z"},
        WorkedCase{"00:00 to 06:00 holds seven hours on 31 October", kEveryDay,
                   absl::ZeroDuration(), absl::Hours(6), "2027-10-30T22:00:00Z",
                   absl::Hours(7), "2027-10-31T06:00:00Z"},
        // 01:30 is read as 02:30, which is after the end.
        WorkedCase{"a start that is skipped leaves no time", kEveryDay,
                   absl::Minutes(90), absl::Hours(2), "2027-03-28T00:00:00Z",
                   absl::Minutes(30), "2027-03-29T01:00:00Z"}));

TEST(WorkingTime, GivesUpTenYearsOn) {
  // Our own limit, so that a calendar of holidays alone cannot hang.
  std::set<absl::CivilDay> holidays;
  for (absl::CivilDay day(2027, 3, 15); day < absl::CivilDay(2038, 1, 1);
       ++day) {
    holidays.insert(day);
  }
  const WorkCalendar calendar(absl::UTCTimeZone(), kEveryDay, holidays, kNine,
                              kFive);
  EXPECT_EQ(calendar.AfterWorkingTime(Moment("2027-03-15T09:00:00Z"),
                                      absl::Minutes(1)),
            Moment("2037-03-15T17:00:00Z"));
}

}  // namespace
}  // namespace turnstone
