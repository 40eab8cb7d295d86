// Slips in the ladders of a site file. Expectations: the comments of duty.proto
// and site.proto and, for what they do not say, plain reading; no outside
// source.
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/bad_file.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

std::string NoClinicianAt(const std::string& place) {
  return ":" + place +
         ": nobody has the role \"clinician\"; add a person { ... } who has "
         "it, or tell another";
}

class BadLadderTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadLadderTest, IsReported) {
  ExpectFindings("sites/harbour-row.textproto", GetParam());
}

const std::vector<BadFile> kLadderSlips = {
    {"LadderPattern",
     "id: \"later\"",
     "id: \"Later\"",
     {":105:3: id \"Later\" holds other characters than lower-case letters, "
      "digits and hyphens; write it with lower-case letters, digits and "
      "hyphens only, such as \"low-score-2\""}},
    {"LadderTwice",
     "id: \"later\"",
     "id:  \"soon\"",
     {":105:3: ladder \"soon\" is used a second time; choose another; the "
      "first is on line 91"}},
    {"LadderForNoPriority",
     "  priority: [PRIORITY_URGENT, PRIORITY_ROUTINE]\n",
     "",
     {": no ladder is for PRIORITY_ROUTINE with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING; add it to a ladder, or a ladder for it",
      ": no ladder is for PRIORITY_URGENT with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING; add it to a ladder, or a ladder for it",
      ":104:1: priority is missing; write priority: with one of "
      "PRIORITY_ROUTINE, PRIORITY_URGENT, PRIORITY_ASAP or PRIORITY_STAT, once "
      "or more"}},
    {"NoLadderForAPriority",
     "[PRIORITY_URGENT, PRIORITY_ROUTINE]",
     "PRIORITY_URGENT",
     {": no ladder is for PRIORITY_ROUTINE with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING; add it to a ladder, or a ladder for it"},
     {"ladder-missing"}},
    {"NoLadderForSomeKinds",
     "in_digest: true",
     "in_digest: true kind: ALERT_KIND_COACHING",
     {": no ladder is for PRIORITY_ROUTINE with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE or ALERT_KIND_OUTREACH; "
      "add it to a ladder, or a ladder for it",
      ": no ladder is for PRIORITY_URGENT with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE or ALERT_KIND_OUTREACH; "
      "add it to a ladder, or a ladder for it"}},
    {"TwoLaddersForAPriority",
     "[PRIORITY_URGENT, PRIORITY_ROUTINE]",
     "[PRIORITY_URGENT, PRIORITY_ASAP, PRIORITY_ROUTINE]",
     {":104:1: there is a ladder for PRIORITY_ASAP with ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING already, on line 90; leave it to one of them",
      ":107:3: PRIORITY_ASAP must not wait for the message of the day; leave "
      "in_digest out, or give that priority a ladder of its own"},
     {"ladder-given-twice", "priority-must-not-wait"}},
    {"CannotWaitForTheDigest",
     "[PRIORITY_STAT, PRIORITY_ASAP]",
     "[PRIORITY_STAT, PRIORITY_ASAP] in_digest:  true",
     {":92:44: PRIORITY_STAT must not wait for the message of the day; leave "
      "in_digest out, or give that priority a ladder of its own",
      ":92:44: PRIORITY_ASAP must not wait for the message of the day; leave "
      "in_digest out, or give that priority a ladder of its own"},
     {"priority-must-not-wait", "priority-must-not-wait"}},
    {"TwoLaddersForSomeKinds",
     "second_person: ALERT_KIND_SAFETY",
     "ladder { id: \"one\" priority: PRIORITY_ROUTINE kind: "
     "[ALERT_KIND_OUTREACH, ALERT_KIND_COACHING] until_received { rung { tell "
     "{ everybody: \"clinician\" } } repeat_every { hours: 1 } } until_closed "
     "{ rung { tell { everybody: \"clinician\" } } repeat_every { hours: 1 } } "
     "}\nladder { id: \"two\" priority: PRIORITY_ROUTINE kind: "
     "[ALERT_KIND_OUTREACH, ALERT_KIND_COACHING] until_received { rung { tell "
     "{ everybody: \"clinician\" } } repeat_every { hours: 1 } } until_closed "
     "{ rung { tell { everybody: \"clinician\" } } repeat_every { hours: 1 } } "
     "}\nsecond_person: ALERT_KIND_SAFETY",
     {":118:1: there is a ladder for PRIORITY_ROUTINE with ALERT_KIND_OUTREACH "
      "or ALERT_KIND_COACHING already, on line 117; leave it to one of them"}},
    {"PriorityTwice",
     "[PRIORITY_STAT, PRIORITY_ASAP]",
     "[PRIORITY_STAT, PRIORITY_ASAP, PRIORITY_STAT]",
     {":92:3: priority \"PRIORITY_STAT\" is used a second time; choose "
      "another; the first is on line 92"}},
    {"PriorityUnspecified",
     "[PRIORITY_STAT, PRIORITY_ASAP]",
     "[PRIORITY_STAT, PRIORITY_UNSPECIFIED, PRIORITY_ASAP]",
     {":92:3: priority is unspecified; write priority: with one of "
      "PRIORITY_ROUTINE, PRIORITY_URGENT, PRIORITY_ASAP or PRIORITY_STAT, once "
      "or more"}},
    {"KindTwice",
     "in_digest: true",
     "in_digest: true kind: [ALERT_KIND_SAFETY, ALERT_KIND_REFERRAL, "
     "ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH, ALERT_KIND_COACHING, "
     "ALERT_KIND_SAFETY]",
     {":107:19: kind \"ALERT_KIND_SAFETY\" is used a second time; choose "
      "another; the first is on line 107"}},
    {"KindUnspecified",
     "in_digest: true",
     "in_digest: true kind: [ALERT_KIND_SAFETY, ALERT_KIND_REFERRAL, "
     "ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH, ALERT_KIND_COACHING, "
     "ALERT_KIND_UNSPECIFIED]",
     {":107:19: kind is unspecified; write kind: with one of "
      "ALERT_KIND_SAFETY, ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, "
      "ALERT_KIND_OUTREACH or ALERT_KIND_COACHING, once or more"}},
    {"NotUntilReceived",
     "  until_received {\n    rung { tell { own_clinician: true } } rung { "
     "after "
     "{ hours: 9 } tell { everybody: \"clinician\" } }\n    repeat_every { "
     "working_days: 1 }\n  }\n",
     "",
     {":104:1: until_received is missing; write until_received { rung { ... } "
      "repeat_every { ... } }"},
     {"ladder-without-climb"}},
    {"NotUntilClosed",
     "  until_closed {\n    rung { after { working_hours: 9 } tell { "
     "everybody: \"clinician\" } }\n    repeat_every { working_days: 2 }\n  "
     "}\n",
     "",
     {":104:1: until_closed is missing; write until_closed { rung { ... } "
      "repeat_every { ... } }"}},
    {"NoRung",
     "    rung { tell { own_clinician: true } } rung { after { hours: 9 } tell "
     "{ "
     "everybody: \"clinician\" } }\n",
     "",
     {":108:3: there is no rung, so nobody would be told; write rung { tell { "
      "... } }"},
     {"ladder-without-rung"}},
    {"NoRepeat",
     "    repeat_every { working_days: 1 }\n",
     "",
     {":108:3: repeat_every is missing; write repeat_every { ... } with one of "
      "minutes, hours, working_hours or working_days"},
     {"wait-missing"}},
    {"RepeatWithoutTime",
     "repeat_every { working_days: 1 }",
     "repeat_every {}",
     {":110:5: it does not say how long; write one of minutes, hours, "
      "working_hours or working_days"}},
    {"WaitWithoutTime",
     "after { minutes: 15 }",
     "after {}",
     {":95:12: it does not say how long; write one of minutes, hours, "
      "working_hours or working_days"}},
    {"Minutes4",
     "minutes: 15",
     "minutes: 4",
     {":95:20: minutes is 4; write a whole number from 5 to 43200"}},
    {"Minutes43201",
     "minutes: 15",
     "minutes: 43201",
     {":95:20: minutes is 43201; write a whole number from 5 to 43200"}},
    {"Hours0",
     "hours: 3",
     "hours: 0",
     {":100:20: hours is 0; write a whole number from 1 to 720"}},
    {"Hours721",
     "hours: 3",
     "hours: 721",
     {":100:20: hours is 721; write a whole number from 1 to 720"}},
    {"WorkingHours0",
     "working_hours: 9",
     "working_hours: 0",
     {":113:20: working_hours is 0; write a whole number from 1 to 200"}},
    {"WorkingHours201",
     "working_hours: 9",
     "working_hours: 201",
     {":113:20: working_hours is 201; write a whole number from 1 to 200"}},
    {"WorkingDays0",
     "working_days: 2",
     "working_days: 0",
     {":114:20: working_days is 0; write a whole number from 1 to 20"}},
    {"WorkingDays21",
     "working_days: 2",
     "working_days: 21",
     {":114:20: working_days is 21; write a whole number from 1 to 20"}},
    {"RungWithoutAfter",
     "after { hours: 3 } ",
     "",
     {":100:5: after is missing; write after { ... }, the time since the rung "
      "before, with one of minutes, hours, working_hours or working_days"}},
    {"RungThatTellsNobody",
     " tell { everybody: \"on-call-lead\" }",
     "",
     {":95:5: the rung tells nobody; write tell { ... }, once or more"},
     {"tells-nobody"}},
    {"TellWithoutWhom",
     "tell { everybody: \"on-call-lead\" }",
     "tell {}",
     {":95:34: it does not say whom to tell; write one of on_duty, everybody, "
      "own_clinician or holder"}},
    {"TellAnUnknownRole",
     "tell { everybody: \"on-call-lead\" }",
     "tell { everybody: \"on-call-leed\" }",
     {":95:41: there is no role \"on-call-leed\"; did you mean "
      "\"on-call-lead\"? There is clinician, on-call-lead or planner"}},
    {"TellARoleOfNobody",
     "tell { everybody: \"on-call-lead\" }",
     "tell { everybody: \"planner\" }",
     {":95:41: nobody has the role \"planner\"; add a person { ... } who has "
      "it, or tell another"},
     {"nobody-has-role"}},
    {"OnDutyForNoRole",
     "on_duty: \"on-call-lead\"",
     "on_duty: \"\"",
     {":94:48: on_duty is missing or empty; write on_duty: \"...\" with the id "
      "of a role"}},
    {"OnDutyForARoleOfNobody",
     "on_duty: \"on-call-lead\"",
     "on_duty: \"planner\"",
     {":94:48: nobody has the role \"planner\"; add a person { ... } who has "
      "it, or tell another"}},
    {"OnDutyWithoutRota",
     "on_duty: \"on-call-lead\"",
     "on_duty: \"clinician\"",
     {":94:48: role \"clinician\" has no rota; add rota { ... } for it, or "
      "write everybody: instead"},
     {"rota-missing"}},
    {"OwnClinicianFalse",
     "rung { tell { own_clinician: true } }",
     "rung { tell { own_clinician: false } }",
     {":109:19: own_clinician: false tells nobody; write own_clinician: true"}},
    {"NoClinicians",
     "  role: \"clinician\"\n",
     "  role: \"planner\"\n",
     {NoClinicianAt("94:19"), NoClinicianAt("100:38"), NoClinicianAt("100:67"),
      NoClinicianAt("109:19"), NoClinicianAt("109:76"),
      NoClinicianAt("113:46")}},
    {"HolderBeforeItIsReceived",
     "rung { tell { own_clinician: true } }",
     "rung { tell { holder:  true } }",
     {":109:19: until it is received nobody has the alert; write holder only "
      "in until_closed"},
     {"holder-too-early"}},
    {"HolderFalse",
     "tell { holder: true }",
     "tell { holder: false }",
     {":99:38: holder: false tells nobody; write holder: true"}},
    {"OnlyTheHolderInTheEnd",
     "after { hours: 3 } tell { own_clinician: true } tell { everybody: "
     "\"clinician\" }",
     "after { hours: 3 } tell { holder:  true }",
     {":100:5: the last rung tells only who has the alert already; tell "
      "on_duty or everybody as well"},
     {"last-rung-tells-nobody-new"}},
    {"OnlyTheHolderAtAll",
     "{ working_hours: 9 } tell { everybody: \"clinician\" }",
     "{ working_hours: 9 } tell { holder:  true }",
     {":113:5: the last rung tells only who has the alert already; tell "
      "on_duty or everybody as well"}},
    {"OnlyOneClinicianInTheEnd",
     " tell { everybody: \"clinician\" } }\n    repeat_every { hours: 5 }",
     " }\n    repeat_every { hours: 5 }",
     {":100:5: the last rung does not end at people of whom somebody is always "
      "there; tell on_duty: a role whose rota has no gaps, or everybody: a "
      "role with a person who has reach { ... }"},
     {"ladder-not-always-staffed"}},
    {"EverybodyButNobodyIsReached",
     " reach { channel: \"mail\" address: \"p@row.example\" }",
     "",
     {":95:5: the last rung does not end at people of whom somebody is always "
      "there; tell on_duty: a role whose rota has no gaps, or everybody: a "
      "role with a person who has reach { ... }"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadLadderTest,
                         ::testing::ValuesIn(kLadderSlips),
                         [](const auto& slip) { return slip.param.name; });

TEST(Ladders, MayEndAtARotaWithoutGaps) {
  Files files = GoodFilesBut("sites/harbour-row.textproto",
                             "tell { everybody: \"on-call-lead\" }",
                             "tell { on_duty: \"on-call-lead\" }");
  std::string& site = files.at("sites/harbour-row.textproto");
  // Nobody of the role is reached other than live.
  const std::string reach =
      " reach { channel: \"mail\" address: \"p@row.example\" }";
  site.erase(site.find(reach), reach.size());
  EXPECT_TRUE(LoadConfiguration(files, {.complete = true}).findings.empty());
}

// In a gap the whole role is told (duty.proto), so somebody must be reached.
TEST(Ladders, MayNotEndAtARotaWithGapsAndNobodyReached) {
  Files files = GoodFilesBut("sites/harbour-row.textproto",
                             "tell { everybody: \"on-call-lead\" }",
                             "tell { on_duty: \"on-call-lead\" }");
  std::string& site = files.at("sites/harbour-row.textproto");
  const std::string rota = "role: \"on-call-lead\"\n  rotation";
  site.insert(site.find(rota), "gaps_because: \"to try the checks\" ");
  EXPECT_TRUE(LoadConfiguration(files, {.complete = true}).findings.empty());
  const std::string reach =
      " reach { channel: \"mail\" address: \"p@row.example\" }";
  site.erase(site.find(reach), reach.size());
  const LoadResult result = LoadConfiguration(files, {.complete = true});
  ASSERT_EQ(result.findings.size(), 1U);
  EXPECT_EQ(result.findings[0].id, "ladder-not-always-staffed");
  EXPECT_EQ(result.findings[0].line, 95);
}

TEST(Ladders, OneThatNamesKindsTakesThemFromTheOneForTheRest) {
  const LoadResult result = LoadConfiguration(
      GoodFilesBut("sites/harbour-row.textproto",
                   "second_person: ALERT_KIND_SAFETY",
                   "ladder { id: \"one\" priority: PRIORITY_ROUTINE kind: "
                   "[ALERT_KIND_OUTREACH, ALERT_KIND_COACHING] until_received "
                   "{ rung { tell { everybody: \"clinician\" } } repeat_every "
                   "{ hours: 1 } } until_closed { rung { tell { everybody: "
                   "\"clinician\" } } repeat_every { hours: 1 } } }\n"),
      {.complete = true});
  EXPECT_TRUE(result.findings.empty());
}

}  // namespace
}  // namespace turnstone
