// Duties that were passed on. Expectations: rota.h; no outside source.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "rules/duty/rota.h"
#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;

constexpr char kTurns[] = R"(rotation {
  person: "a" person: "b" starts_on: "2026-12-28" hand_over_at: "09:00"
  days_each: 7
} )";

Swap Passed(const std::string& from, const std::string& to,
            const std::string& begin, const std::string& end) {
  return {"lead", from, to, Moment(begin), Moment(end)};
}

std::vector<std::string> FirstFortnight(const std::vector<Swap>& swaps,
                                        const std::string& more = "") {
  return ShiftsOf(RotaOf(kTurns + more), "2026-12-28T09:00:00Z",
                  "2027-01-11T09:00:00Z", swaps);
}

TEST(Swap, LastsFromItsBeginToItsEnd) {
  EXPECT_THAT(FirstFortnight({Passed("a", "c", "2026-12-30T11:02:03Z",
                                     "2027-01-02T09:00:00Z")}),
              ElementsAre("2026-12-28T09:00Z a (rotation)",
                          "2026-12-30T11:02:03Z c (hand-over)",
                          "2027-01-02T09:00Z a (rotation)",
                          "2027-01-04T09:00Z b (rotation)"));
}

TEST(Swap, OnlyThePersonsOwnDutyIsPassedOn) {
  EXPECT_THAT(FirstFortnight({Passed("a", "c", "2026-12-30T11:00:00Z",
                                     "2027-01-06T09:00:00Z")}),
              ElementsAre("2026-12-28T09:00Z a (rotation)",
                          "2026-12-30T11:00Z c (hand-over)",
                          "2027-01-04T09:00Z b (rotation)"));
}

TEST(Swap, MayBePassedOnAgain) {
  EXPECT_THAT(
      FirstFortnight(
          {Passed("a", "c", "2026-12-30T11:00:00Z", "2027-01-04T09:00:00Z"),
           Passed("c", "d", "2027-01-01T11:00:00Z", "2027-01-04T09:00:00Z")}),
      ElementsAre(
          "2026-12-28T09:00Z a (rotation)", "2026-12-30T11:00Z c (hand-over)",
          "2027-01-01T11:00Z d (hand-over)", "2027-01-04T09:00Z b (rotation)"));
}

TEST(Swap, OfAnotherRoleDoesNotCount) {
  Swap other = Passed("a", "c", "2026-12-30T11:00:00Z", "2027-01-04T09:00:00Z");
  other.role = "supervisor";
  EXPECT_THAT(FirstFortnight({other}),
              ElementsAre("2026-12-28T09:00Z a (rotation)",
                          "2027-01-04T09:00Z b (rotation)"));
}

TEST(Swap, ToSomebodyOnDutyAlreadyLeavesOne) {
  const std::string always_c = R"(rotation {
    person: "c" starts_on: "2026-12-28" hand_over_at: "09:00" days_each: 1
  })";
  EXPECT_THAT(FirstFortnight({Passed("a", "c", "2026-12-30T11:00:00Z",
                                     "2027-01-04T09:00:00Z")},
                             always_c),
              ElementsAre("2026-12-28T09:00Z a, c (rotation)",
                          "2026-12-30T11:00Z c (hand-over)",
                          "2027-01-04T09:00Z b, c (rotation)"));
}

TEST(Swap, PassesOnAnOverrideToo) {
  const std::string override = R"(override {
    from: "2027-01-02T09:00" until: "2027-01-03T09:00" person: "d" reason: "x"
  })";
  EXPECT_THAT(
      FirstFortnight(
          {Passed("d", "e", "2027-01-02T12:00:00Z", "2027-01-03T09:00:00Z")},
          override),
      ElementsAre(
          "2026-12-28T09:00Z a (rotation)", "2027-01-02T09:00Z d (override: x)",
          "2027-01-02T12:00Z e (hand-over)", "2027-01-03T09:00Z a (rotation)",
          "2027-01-04T09:00Z b (rotation)"));
}

TEST(Swap, IsWhatAtSees) {
  const std::vector<Swap> swaps = {
      Passed("a", "c", "2026-12-30T11:00:00Z", "2027-01-02T09:00:00Z")};
  const Shift shift = RotaOf(kTurns).At(Moment("2026-12-31T00:00:00Z"), swaps);
  EXPECT_EQ(ShownShift(shift), "2026-12-31T00:00Z c (hand-over)");
  EXPECT_EQ(shift.until, Moment("2027-01-02T09:00:00Z"));
}

}  // namespace
}  // namespace turnstone
