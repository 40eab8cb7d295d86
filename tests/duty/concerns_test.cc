// What is to be seen to. Expected dates: counted by hand on a printed calendar;
// no outside source.
#include "rules/duty/concerns.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

std::vector<std::string> Concerns(const std::string& site_text,
                                  const std::string& now,
                                  const std::vector<Swap>& swaps = {},
                                  const std::string& zone = "Europe/Dublin") {
  const auto site = Written<v1::SiteConfig>(site_text);
  return ConcernsOf(site, Team(site, Zone(zone)), Zone(zone), Moment(now),
                    swaps);
}

std::string RotaFrom(const std::string& day, const std::string& more = "") {
  return "rota { role: \"on-call-lead\" rotation { person: \"a\" starts_on: "
         "\"" +
         day + "\" hand_over_at: \"09:00\" days_each: 1 } " + more + "} ";
}

TEST(Concerns, ThereAreNone) {
  EXPECT_THAT(Concerns(RotaFrom("2026-12-28"), "2027-02-06T09:00:00Z"),
              IsEmpty());
  EXPECT_THAT(Concerns("", "2027-02-06T09:00:00Z"), IsEmpty());
}

TEST(Concerns, NobodyIsOnDuty) {
  EXPECT_THAT(Concerns(RotaFrom("2027-02-07"), "2027-02-06T09:00:00Z"),
              ElementsAre("on-call-lead: nobody is on duty from Sat 6 Feb 2027 "
                          "09:00 to Sun 7 Feb 2027 09:00"));
}

TEST(Concerns, NobodyIsOnDutyAsFarAsOneLooks) {
  // 90 days on is 7 May, when the clock is an hour ahead.
  EXPECT_THAT(Concerns(RotaFrom("2028-01-01"), "2027-02-06T09:00:00Z"),
              ElementsAre("on-call-lead: nobody is on duty from Sat 6 Feb 2027 "
                          "09:00 to at least Fri 7 May 2027 10:00"));
}

TEST(Concerns, AMinuteWithoutAnybodyIsOne) {
  // The rotation names nobody; two overrides do not quite meet.
  const std::string overrides = R"(
    override { from: "2027-02-01T00:00" until: "2027-03-01T20:00"
               person: "a" reason: "x" }
    override { from: "2027-03-01T20:01" until: "2027-12-01T20:01"
               person: "a" reason: "x" })";
  EXPECT_THAT(
      Concerns(RotaFrom("2028-01-01", overrides), "2027-02-06T09:00:00Z"),
      ElementsAre("on-call-lead: nobody is on duty from Mon 1 Mar 2027 "
                  "20:00 to Mon 1 Mar 2027 20:01"));
}

TEST(Concerns, AReviewIsOverdueFromTheDayAfter) {
  const std::string protocol =
      "protocol { id: \"self-harm\" review_by: \"2026-12-31\" }";
  const auto due =
      ElementsAre("protocol self-harm: its review was due by 2026-12-31");
  EXPECT_THAT(Concerns(protocol, "2026-12-31T23:59:59Z"), IsEmpty());
  EXPECT_THAT(Concerns(protocol, "2027-01-01T00:00:00Z"), due);
  // There it is still December.
  EXPECT_THAT(
      Concerns(protocol, "2027-01-01T04:59:59Z", {}, "America/New_York"),
      IsEmpty());
  EXPECT_THAT(
      Concerns(protocol, "2027-01-01T05:00:00Z", {}, "America/New_York"), due);
}

TEST(StaffingGaps, AreFoundForEveryRotaAndToTheSecond) {
  const auto site = Written<v1::SiteConfig>(
      RotaFrom("2027-02-07") +
      "rota { role: \"supervisor\" rotation { person: \"s\" starts_on: "
      "\"2027-02-08\" hand_over_at: \"10:30\" days_each: 7 } }");
  const Team team(site, Zone("Europe/Dublin"));
  const absl::Time now = Moment("2027-02-06T09:12:13Z");
  const std::vector<Gap> gaps = StaffingGaps(team, now, {});
  ASSERT_EQ(gaps.size(), 2U);
  EXPECT_EQ(gaps[0].role, "on-call-lead");
  EXPECT_EQ(gaps[0].from, now);
  EXPECT_EQ(gaps[0].until, Moment("2027-02-07T09:00:00Z"));
  EXPECT_EQ(gaps[1].role, "supervisor");
  EXPECT_EQ(gaps[1].from, now);
  EXPECT_EQ(gaps[1].until, Moment("2027-02-08T10:30:00Z"));
}

}  // namespace
}  // namespace turnstone
