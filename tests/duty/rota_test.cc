// Who is on duty. Expected shifts: counted by hand on a printed calendar from
// the comments of duty.proto; no outside source. In winter a clock in Dublin
// shows UTC.
#include "rules/duty/rota.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;

constexpr char kWeekly[] = R"(rotation {
  person: "a" person: "b" starts_on: "2026-12-28" hand_over_at: "09:00"
  days_each: 7
} )";

constexpr char kAlways[] = R"(rotation {
  person: "c" starts_on: "2026-12-28" hand_over_at: "00:00" days_each: 1
} )";

TEST(Rota, HandsOverInTurn) {
  EXPECT_THAT(
      ShiftsOf(RotaOf(kWeekly), "2026-12-20T00:00:00Z", "2027-01-12T00:00:00Z"),
      ElementsAre("2026-12-20T00:00Z nobody", "2026-12-28T09:00Z a (rotation)",
                  "2027-01-04T09:00Z b (rotation)",
                  "2027-01-11T09:00Z a (rotation)"));
}

TEST(Rota, IsEmptyLongBeforeItStarts) {
  EXPECT_THAT(
      ShiftsOf(RotaOf(kWeekly), "2025-12-28T09:00:00Z", "2026-01-12T00:00:00Z"),
      ElementsAre("2025-12-28T09:00Z nobody"));
}

TEST(Rota, OneWhoTakesOverFromThemselvesStays) {
  EXPECT_THAT(
      ShiftsOf(RotaOf(kAlways), "2027-01-04T09:00:00Z", "2027-02-04T09:00:00Z"),
      ElementsAre("2027-01-04T09:00Z c (rotation)"));
}

TEST(Rota, EverybodyNamedForAMomentIsOnDutyOnce) {
  const std::string also_b = R"(rotation {
    person: "b" starts_on: "2027-01-02" hand_over_at: "12:00" days_each: 1
  })";
  EXPECT_THAT(ShiftsOf(RotaOf(kWeekly + also_b), "2027-01-01T00:00:00Z",
                       "2027-01-11T12:00:00Z"),
              ElementsAre("2027-01-01T00:00Z a (rotation)",
                          "2027-01-02T12:00Z a, b (rotation)",
                          "2027-01-04T09:00Z b (rotation)",
                          "2027-01-11T09:00Z a, b (rotation)"));
}

// 8 January 2027 is a Friday.
TEST(Rota, WindowsReachOverMidnight) {
  const Rota rota = RotaOf(R"(rotation {
    person: "a" starts_on: "2026-12-28" hand_over_at: "00:00" days_each: 1
    window { weekday: [FRIDAY, SATURDAY] from: "20:00" until: "08:00" }
  })");
  EXPECT_THAT(
      ShiftsOf(rota, "2027-01-08T00:00:00Z", "2027-01-15T20:00:00Z"),
      ElementsAre("2027-01-08T00:00Z nobody", "2027-01-08T20:00Z a (rotation)",
                  "2027-01-09T08:00Z nobody", "2027-01-09T20:00Z a (rotation)",
                  "2027-01-10T08:00Z nobody"));
  // From within one that began the day before.
  EXPECT_EQ(ShownShift(rota.At(Moment("2027-01-09T07:59:59Z"), {})),
            "2027-01-09T07:59:59Z a (rotation)");
}

TEST(Rota, TurnsChangeWithinAWindow) {
  const Rota rota = RotaOf(R"(rotation {
    person: "a" person: "b" starts_on: "2027-01-04" hand_over_at: "12:00"
    days_each: 1
    window { weekday: TUESDAY from: "09:00" until: "17:00" }
  })");
  EXPECT_THAT(
      ShiftsOf(rota, "2027-01-05T00:00:00Z", "2027-01-06T00:00:00Z"),
      ElementsAre("2027-01-05T00:00Z nobody", "2027-01-05T09:00Z a (rotation)",
                  "2027-01-05T12:00Z b (rotation)",
                  "2027-01-05T17:00Z nobody"));
}

TEST(Rota, AGapOfOneMinuteIsOne) {
  const Rota rota = RotaOf(R"(rotation {
    person: "a" starts_on: "2026-12-28" hand_over_at: "00:00" days_each: 1
    window { from: "08:00" until: "20:00" }
    window { from: "20:01" until: "08:00" }
  })");
  EXPECT_THAT(
      ShiftsOf(rota, "2027-01-08T12:00:00Z", "2027-01-09T12:00:00Z"),
      ElementsAre("2027-01-08T12:00Z a (rotation)", "2027-01-08T20:00Z nobody",
                  "2027-01-08T20:01Z a (rotation)"));
}

TEST(Rota, WholeDaysMeetWithoutAGap) {
  const Rota rota = RotaOf(R"(rotation {
    person: "a" starts_on: "2026-12-28" hand_over_at: "00:00" days_each: 1
    window { from: "00:00" until: "24:00" }
  })");
  EXPECT_THAT(ShiftsOf(rota, "2027-01-08T12:00:00Z", "2028-01-09T12:00:00Z"),
              ElementsAre("2027-01-08T12:00Z a (rotation)"));
}

TEST(Rota, OverridesTakeThePlaceOfEveryRotation) {
  const std::string override = R"(override {
    from: "2027-01-02T09:00" until: "2027-01-03T21:30"
    person: "d" person: "a" reason: "exchange with d"
  })";
  EXPECT_THAT(ShiftsOf(RotaOf(std::string(kWeekly) + kAlways + override),
                       "2027-01-01T00:00:00Z", "2027-01-05T00:00:00Z"),
              ElementsAre("2027-01-01T00:00Z a, c (rotation)",
                          "2027-01-02T09:00Z d, a (override: exchange with d)",
                          "2027-01-03T21:30Z a, c (rotation)",
                          "2027-01-04T09:00Z b, c (rotation)"));
}

TEST(Rota, OverridesThatMeetHaveEachTheirReason) {
  const Rota rota = RotaOf(R"(
    override {
      from: "2027-01-02T09:00" until: "2027-01-03T09:00" person: "d"
      reason: "x"
    }
    override {
      from: "2027-01-03T09:00" until: "2027-01-04T09:00" person: "d"
      reason: "y"
    })");
  EXPECT_THAT(ShiftsOf(rota, "2027-01-02T09:00:00Z", "2027-01-04T09:01:00Z"),
              ElementsAre("2027-01-02T09:00Z d (override: x)",
                          "2027-01-03T09:00Z d (override: y)",
                          "2027-01-04T09:00Z nobody"));
}

TEST(Rota, AtSaysUntilWhen) {
  const absl::Time time = Moment("2027-01-06T10:11:12Z");
  const Shift weekly = RotaOf(kWeekly).At(time, {});
  EXPECT_EQ(weekly.from, time);
  EXPECT_EQ(weekly.until, Moment("2027-01-11T09:00:00Z"));
  EXPECT_THAT(weekly.persons, ElementsAre("b"));
  // Further on than a fortnight: 28 December and 100 days is 7 April, when the
  // clock is an hour ahead.
  const Shift long_one = RotaOf(R"(rotation {
    person: "a" person: "b" starts_on: "2026-12-28" hand_over_at: "09:00"
    days_each: 100
  })")
                             .At(time, {});
  EXPECT_EQ(long_one.until, Moment("2027-04-07T08:00:00Z"));
  // No change at all within a year.
  EXPECT_EQ(RotaOf(kAlways).At(time, {}).until, Moment("2028-01-06T10:11:12Z"));
}

}  // namespace
}  // namespace turnstone
