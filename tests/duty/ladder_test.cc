// When rungs are due. Expected moments: counted by hand on a printed calendar;
// dates of clock changes: IANA time zone database.
#include "rules/duty/ladder.h"

#include <gtest/gtest.h>

#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

// Monday to Friday, 09:00 to 17:00, not on Wednesday 17 March 2027.
WorkCalendar Dublin() {
  return WorkCalendar(Zone("Europe/Dublin"), kWeekdays,
                      {absl::CivilDay(2027, 3, 17)}, absl::Hours(9),
                      absl::Hours(17));
}

struct WaitCase {
  std::string wait;
  std::string from;
  std::string expected;
};

class AddWaitTest : public ::testing::TestWithParam<WaitCase> {};

TEST_P(AddWaitTest, EndsWhenItShould) {
  const WaitCase& c = GetParam();
  EXPECT_EQ(AddWait(Written<v1::Wait>(c.wait), Moment(c.from), Dublin()),
            Moment(c.expected))
      << c.wait << " from " << c.from;
}

// Clocks go forward on Sunday 28 March 2027 and back on Sunday 31 October.
INSTANTIATE_TEST_SUITE_P(
    Waits, AddWaitTest,
    ::testing::Values(
        WaitCase{"", "2027-03-20T10:00:00Z", "2027-03-20T10:00:00Z"},
        WaitCase{"minutes: 15", "2027-03-20T23:50:00Z", "2027-03-21T00:05:00Z"},
        WaitCase{"hours: 4", "2027-03-28T00:00:00Z", "2027-03-28T04:00:00Z"},
        WaitCase{"hours: 4", "2027-10-31T00:00:00Z", "2027-10-31T04:00:00Z"},
        // Two hours on Tuesday, two on Thursday.
        WaitCase{"working_hours: 4", "2027-03-16T15:00:00Z",
                 "2027-03-18T11:00:00Z"},
        WaitCase{"working_hours: 4", "2027-03-26T15:00:00Z",
                 "2027-03-29T10:00:00Z"},
        WaitCase{"working_hours: 4", "2027-10-29T14:00:00Z",
                 "2027-11-01T11:00:00Z"},
        WaitCase{"working_days: 1", "2027-03-16T15:00:00Z",
                 "2027-03-18T17:00:00Z"},
        WaitCase{"working_days: 3", "2027-03-26T12:00:00Z",
                 "2027-03-31T16:00:00Z"}));

TEST(Ladder, ClimbsAndThenRepeatsTheLastRung) {
  const auto climb = Written<v1::Climb>(R"(
    rung { tell { own_clinician: true } }
    rung { after { minutes: 15 } tell { on_duty: "lead" } }
    rung { after { hours: 1 } tell { everybody: "lead" } }
    repeat_every { minutes: 30 })");
  absl::Time time = Moment("2027-03-28T00:50:00Z");
  const std::vector<std::string> due = {
      "2027-03-28T00:50:00Z", "2027-03-28T01:05:00Z", "2027-03-28T02:05:00Z",
      "2027-03-28T02:35:00Z", "2027-03-28T03:05:00Z"};
  const std::vector<int> rungs = {0, 1, 2, 2, 2};
  for (int reached = 0; reached < 5; ++reached) {
    const auto index = static_cast<size_t>(reached);
    time = RungDue(climb, reached, time, Dublin());
    EXPECT_EQ(time, Moment(due[index])) << reached;
    EXPECT_EQ(&RungAfter(climb, reached), &climb.rung(rungs[index])) << reached;
  }
}

TEST(Ladder, TheFirstRungMayWait) {
  const auto climb = Written<v1::Climb>(R"(
    rung { after { working_hours: 9 } tell { holder: true } }
    repeat_every { working_days: 1 })");
  // An hour on Friday, eight on Monday; then the end of Tuesday.
  const absl::Time first =
      RungDue(climb, 0, Moment("2027-03-12T16:00:00Z"), Dublin());
  EXPECT_EQ(first, Moment("2027-03-15T17:00:00Z"));
  EXPECT_EQ(RungDue(climb, 1, first, Dublin()), Moment("2027-03-16T17:00:00Z"));
}

}  // namespace
}  // namespace turnstone
