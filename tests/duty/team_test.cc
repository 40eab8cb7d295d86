// A site's people. Expectations: the comments of duty.proto and site.proto; no
// outside source.
#include "rules/duty/team.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "tests/duty/shifts.h"

namespace turnstone {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

Team TestTeam() {
  return Team(Written<v1::SiteConfig>(R"(
    role { id: "clinician" title: "Clinician" may: [WORK, CONFIRM] }
    role { id: "lead" title: "Lead" may: HAND_OVER }
    person { id: "z" role: "lead" }
    person { id: "c" role: "clinician" }
    person { id: "a" role: "lead" }
    channel { id: "mail" smtp { host: "h" } }
    rota { role: "lead" rotation {
      person: "a" starts_on: "2027-01-04" hand_over_at: "09:00" days_each: 1
    } }
    ladder { id: "rest" priority: [PRIORITY_STAT, PRIORITY_ASAP] }
    ladder {
      id: "safety" priority: PRIORITY_STAT
      kind: [ALERT_KIND_OUTREACH, ALERT_KIND_SAFETY]
    }
    ladder { id: "coaching" priority: PRIORITY_ROUTINE
             kind: ALERT_KIND_COACHING }
    ladder { id: "slow" priority: [PRIORITY_ROUTINE, PRIORITY_URGENT] }
  )"),
              Zone("Europe/Dublin"));
}

TEST(Team, FindsWhatItHas) {
  const Team team = TestTeam();
  EXPECT_EQ(team.FindRole("lead")->title(), "Lead");
  EXPECT_EQ(team.FindRole("auditor"), nullptr);
  EXPECT_EQ(team.FindPerson("c")->role(), "clinician");
  EXPECT_EQ(team.FindPerson("b"), nullptr);
  EXPECT_EQ(team.FindChannel("mail")->smtp().host(), "h");
  EXPECT_EQ(team.FindChannel("hook"), nullptr);
  EXPECT_EQ(team.FindRota("lead"), &team.rotas().at(0));
  EXPECT_EQ(team.FindRota("clinician"), nullptr);
  EXPECT_EQ(team.rotas().size(), 1U);
}

TEST(Team, ARotaReadsTimesInTheSitesZone) {
  const Team team = TestTeam();
  EXPECT_THAT(
      team.FindRota("lead")->At(Moment("2027-01-04T08:59:59Z"), {}).persons,
      IsEmpty());
  EXPECT_THAT(
      team.FindRota("lead")->At(Moment("2027-01-04T09:00:00Z"), {}).persons,
      ElementsAre("a"));
}

TEST(Team, ARoleMayWhatItsListSays) {
  const Team team = TestTeam();
  EXPECT_TRUE(team.May("clinician", v1::WORK));
  EXPECT_TRUE(team.May("clinician", v1::CONFIRM));
  EXPECT_FALSE(team.May("clinician", v1::HAND_OVER));
  EXPECT_TRUE(team.May("lead", v1::HAND_OVER));
  EXPECT_FALSE(team.May("lead", v1::WORK));
  EXPECT_FALSE(team.May("auditor", v1::WORK));
}

TEST(Team, PeopleComeInTheOrderOfTheFile) {
  const Team team = TestTeam();
  EXPECT_THAT(team.PeopleOf("lead"), ElementsAre("z", "a"));
  EXPECT_THAT(team.PeopleOf("clinician"), ElementsAre("c"));
  EXPECT_THAT(team.PeopleOf("auditor"), IsEmpty());
}

TEST(Team, ALadderThatNamesTheKindComesBeforeOneForTheRest) {
  const Team team = TestTeam();
  const auto ladder = [&](v1::AlertKind kind, v1::Priority priority) {
    return team.LadderFor(kind, priority).id();
  };
  EXPECT_EQ(ladder(v1::ALERT_KIND_SAFETY, v1::PRIORITY_STAT), "safety");
  EXPECT_EQ(ladder(v1::ALERT_KIND_OUTREACH, v1::PRIORITY_STAT), "safety");
  EXPECT_EQ(ladder(v1::ALERT_KIND_REFERRAL, v1::PRIORITY_STAT), "rest");
  EXPECT_EQ(ladder(v1::ALERT_KIND_SAFETY, v1::PRIORITY_ASAP), "rest");
  EXPECT_EQ(ladder(v1::ALERT_KIND_COACHING, v1::PRIORITY_ROUTINE), "coaching");
  EXPECT_EQ(ladder(v1::ALERT_KIND_COACHING, v1::PRIORITY_URGENT), "slow");
  EXPECT_EQ(ladder(v1::ALERT_KIND_SAFETY, v1::PRIORITY_ROUTINE), "slow");
}

}  // namespace
}  // namespace turnstone
