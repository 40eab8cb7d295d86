// Duty across clock changes. Dates of changes: IANA time zone database; in
// Dublin, 2027, clocks go forward on Sunday 28 March at 01:00 UTC and back on
// Sunday 31 October at 01:00 UTC. How to read a local time that is skipped or
// doubled: RFC 5545 section 3.3.5.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/duty/rota.h"
#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;

constexpr char kMondays[] = R"(rotation {
  person: "a" person: "b" starts_on: "2026-12-28" hand_over_at: "09:00"
  days_each: 7
})";

TEST(RotaClock, HandOverStaysAtTheSameTimeOfDay) {
  // The 13th and the 44th hand-over after the first.
  EXPECT_THAT(ShiftsOf(RotaOf(kMondays), "2027-03-22T09:00:00Z",
                       "2027-04-05T08:00:00Z"),
              ElementsAre("2027-03-22T09:00Z a (rotation)",
                          "2027-03-29T08:00Z b (rotation)"));
  EXPECT_THAT(ShiftsOf(RotaOf(kMondays), "2027-10-25T08:00:00Z",
                       "2027-11-08T09:00:00Z"),
              ElementsAre("2027-10-25T08:00Z b (rotation)",
                          "2027-11-01T09:00Z a (rotation)"));
}

std::string DailyFrom(const std::string& day, const std::string& at) {
  return "rotation { person: \"a\" person: \"b\" starts_on: \"" + day +
         "\" hand_over_at: \"" + at + "\" days_each: 1 }";
}

TEST(RotaClock, HandOverAtATimeThatIsSkipped) {
  // 01:30 on 28 March is read with the offset before: 01:30 UTC.
  EXPECT_THAT(ShiftsOf(RotaOf(DailyFrom("2027-03-27", "01:30")),
                       "2027-03-27T01:30:00Z", "2027-03-29T12:00:00Z"),
              ElementsAre("2027-03-27T01:30Z a (rotation)",
                          "2027-03-28T01:30Z b (rotation)",
                          "2027-03-29T00:30Z a (rotation)"));
}

TEST(RotaClock, HandOverAtATimeThatIsDoubled) {
  // 01:30 on 31 October is the first of the two: 00:30 UTC.
  EXPECT_THAT(ShiftsOf(RotaOf(DailyFrom("2027-10-30", "01:30")),
                       "2027-10-30T00:30:00Z", "2027-11-01T12:00:00Z"),
              ElementsAre("2027-10-30T00:30Z a (rotation)",
                          "2027-10-31T00:30Z b (rotation)",
                          "2027-11-01T01:30Z a (rotation)"));
}

TEST(RotaClock, HandOverBeforeTheClockGoesBackToTheDayBefore) {
  // In St. John's, 7 November 2010, 00:01 became 23:01 of the 6th, at 02:31
  // UTC; midnight had been at 02:30.
  const Rota rota =
      RotaOf(DailyFrom("2010-11-06", "00:00"), "America/St_Johns");
  EXPECT_THAT(ShiftsOf(rota, "2010-11-06T12:00:00Z", "2010-11-08T12:00:00Z"),
              ElementsAre("2010-11-06T12:00Z a (rotation)",
                          "2010-11-07T02:30Z b (rotation)",
                          "2010-11-08T03:30Z a (rotation)"));
  EXPECT_EQ(ShownShift(rota.At(Moment("2010-11-07T02:45:00Z"), {})),
            "2010-11-07T02:45Z b (rotation)");
}

std::string Within(const std::string& from, const std::string& until) {
  return "rotation { person: \"a\" starts_on: \"2026-12-28\" hand_over_at: "
         "\"00:00\" days_each: 1 window { weekday: [SATURDAY, SUNDAY] from: "
         "\"" +
         from + "\" until: \"" + until + "\" } }";
}

TEST(RotaClock, ANightIsAnHourShorterOrLonger) {
  const Rota nights = RotaOf(Within("22:00", "06:00"));
  EXPECT_THAT(
      ShiftsOf(nights, "2027-03-27T12:00:00Z", "2027-03-28T12:00:00Z"),
      ElementsAre("2027-03-27T12:00Z nobody", "2027-03-27T22:00Z a (rotation)",
                  "2027-03-28T05:00Z nobody"));
  EXPECT_THAT(
      ShiftsOf(nights, "2027-10-30T12:00:00Z", "2027-10-31T12:00:00Z"),
      ElementsAre("2027-10-30T12:00Z nobody", "2027-10-30T21:00Z a (rotation)",
                  "2027-10-31T06:00Z nobody"));
}

TEST(RotaClock, AWindowThatBeginsAtATimeThatIsSkipped) {
  EXPECT_THAT(
      ShiftsOf(RotaOf(Within("01:30", "03:00")), "2027-03-28T00:00:00Z",
               "2027-03-28T12:00:00Z"),
      ElementsAre("2027-03-28T00:00Z nobody", "2027-03-28T01:30Z a (rotation)",
                  "2027-03-28T02:00Z nobody"));
  // Read as 02:30, it begins after it ends.
  EXPECT_THAT(ShiftsOf(RotaOf(Within("01:30", "02:00")), "2027-03-28T00:00:00Z",
                       "2027-03-28T12:00:00Z"),
              ElementsAre("2027-03-28T00:00Z nobody"));
}

TEST(RotaClock, AWindowThatEndsAtATimeThatIsDoubled) {
  EXPECT_THAT(
      ShiftsOf(RotaOf(Within("00:00", "01:30")), "2027-10-30T22:00:00Z",
               "2027-10-31T12:00:00Z"),
      ElementsAre("2027-10-30T22:00Z nobody", "2027-10-30T23:00Z a (rotation)",
                  "2027-10-31T00:30Z nobody"));
}

TEST(RotaClock, OverridesAreLocalToo) {
  const Rota rota = RotaOf(R"(override {
    from: "2027-03-28T00:30" until: "2027-03-28T09:00" person: "a" reason: "x"
  })");
  EXPECT_THAT(ShiftsOf(rota, "2027-03-28T00:30:00Z", "2027-03-28T12:00:00Z"),
              ElementsAre("2027-03-28T00:30Z a (override: x)",
                          "2027-03-28T08:00Z nobody"));
}

}  // namespace
}  // namespace turnstone
