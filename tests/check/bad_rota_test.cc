// Slips in the rota of a site file. Expectations: the comments of duty.proto
// and site.proto and, for what they do not say, plain reading; no outside
// source.
#include <gtest/gtest.h>

#include "rules/check/load.h"
#include "tests/check/bad_file.h"
#include "tests/check/good_files.h"

namespace turnstone {
namespace {

class BadRotaTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadRotaTest, IsReported) {
  ExpectFindings("sites/harbour-row.textproto", GetParam());
}

const std::vector<BadFile> kRotaSlips = {
    {"RotaOfUnknownRole",
     "rota {\n  role: \"on-call-lead\"",
     "rota {\n  role: \"on-call-led\"",
     {":69:3: there is no role \"on-call-led\"; did you mean \"on-call-lead\"? "
      "There is clinician, on-call-lead or planner",
      ":94:48: role \"on-call-lead\" has no rota; add rota { ... } for it, or "
      "write everybody: instead"}},
    {"RotaTwice",
     "rota {\n",
     "rota { role: \"on-call-lead\" }\nrota {\n",
     {":68:1: the rota puts nobody on duty; write rotation { person: \"...\" "
      "... }",
      ":70:3: rota of role \"on-call-lead\" is used a second time; choose "
      "another; the first is on line 68"}},
    {"RotationOfNobody",
     "    person: [\"d.yarrow\", \"p.clary\"]\n",
     "",
     {":70:3: person is missing; write person: \"...\", once or more"},
     {"rota-without-person"}},
    {"RotationOfAStranger",
     "\"p.clary\"]",
     "\"p.clari\"]",
     {":71:5: there is no person \"p.clari\"; did you mean \"p.clary\"? There "
      "is d.yarrow, h.teasel or p.clary"}},
    {"RotationOfAnotherRole",
     "[\"d.yarrow\",",
     "[\"h.teasel\",",
     {":71:5: \"h.teasel\" has the role clinician, and the rota is for "
      "on-call-lead; name somebody whose role is on-call-lead"},
     {"person-in-wrong-role"}},
    {"NoStart",
     "    starts_on: \"2026-12-28\"\n",
     "",
     {":70:3: starts_on is missing or empty; write year, month and day, such "
      "as \"2027-03-17\""}},
    {"StartThatIsNoDate",
     "\"2026-12-28\"",
     "\"2026-11-31\"",
     {":72:5: starts_on \"2026-11-31\" is not a date; write year, month and "
      "day, such as \"2027-03-17\""},
     {"time-unreadable"}},
    {"HandOverAtTheLastMidnight",
     "\"09:15\"",
     "\"24:00\"",
     {":73:5: hand_over_at \"24:00\" is not a time of day; write hours and "
      "minutes from \"00:00\" to \"23:59\", such as \"09:00\""}},
    {"NoDaysEach",
     "    days_each: 7\n",
     "",
     {":70:3: days_each is missing; write days_each: with a whole number from "
      "1 to 365"}},
    {"DaysEach0",
     "days_each: 7",
     "days_each: 0",
     {":74:5: days_each is 0; write a whole number from 1 to 365"}},
    {"DaysEach366",
     "days_each: 7",
     "days_each: 366",
     {":74:5: days_each is 366; write a whole number from 1 to 365"}},
    {"WindowOnNoDay",
     "[FRIDAY, SATURDAY]",
     "WEEKDAY_UNSPECIFIED",
     {":75:14: weekday is unspecified; write weekday: with one of MONDAY, "
      "TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, SATURDAY or SUNDAY, once or "
      "more"}},
    {"WindowTwiceOnADay",
     "[FRIDAY, SATURDAY]",
     "[FRIDAY, FRIDAY]",
     {":75:14: weekday \"FRIDAY\" is used a second time; choose another; the "
      "first is on line 75"}},
    {"WindowFromTheLastMidnight",
     "from: \"20:00\"",
     "from: \"24:00\"",
     {":75:42: from \"24:00\" is not a time of day; write hours and minutes "
      "from \"00:00\" to \"23:59\", such as \"09:00\""}},
    {"WindowUntilTheFirstMidnight",
     "until: \"08:00\"",
     "until: \"00:00\"",
     {":75:56: until \"00:00\" is not a time of day; write hours and minutes "
      "from \"00:01\" to \"24:00\", such as \"17:30\""}},
    {"OverrideFromADay",
     "from: \"2027-02-06T09:00\"",
     "from: \"2027-02-06\"",
     {":78:5: from \"2027-02-06\" is not a date and a time of day; write both, "
      "such as \"2027-02-06T09:00\""}},
    {"OverrideWithoutEnd",
     "    until: \"2027-02-07T09:00\"\n",
     "",
     {":77:3: until is missing or empty; write both, such as "
      "\"2027-02-06T09:00\""}},
    {"OverrideOfNoLength",
     "until: \"2027-02-07T09:00\"",
     "until: \"2027-02-06T09:00\"",
     {":79:5: until \"2027-02-06T09:00\" is not after from "
      "\"2027-02-06T09:00\"; write a later one"},
     {"ends-before-it-begins"}},
    {"OverrideThatAClockChangeSkips",
     "from: \"2027-02-07T09:00\"\n    until: \"2027-02-08T10:00\"",
     "from: \"2027-03-28T01:30\"\n    until: \"2027-03-28T02:00\"",
     {":85:5: until \"2027-03-28T02:00\" is not after from "
      "\"2027-03-28T01:30\"; write a later one"}},
    {"OverridesOverlap",
     "from: \"2027-02-07T09:00\"",
     "from: \"2027-02-07T08:59\"",
     {":83:3: this override overlaps the one on line 77; let the one end "
      "before the other begins"},
     {"rota-overrides-overlap"}},
    {"OverrideByNobody",
     "    person: \"p.clary\"\n",
     "",
     {":77:3: person is missing; write person: \"...\", once or more"}},
    {"OverrideByAStranger",
     "person: \"p.clary\"\n",
     "person: \"p.sage\"\n",
     {":80:5: there is no person \"p.sage\"; write one of d.yarrow, h.teasel "
      "or p.clary"}},
    {"OverrideByAnotherRole",
     "person: \"d.yarrow\"",
     "person: \"h.teasel\"",
     {":86:5: \"h.teasel\" has the role clinician, and the rota is for "
      "on-call-lead; name somebody whose role is on-call-lead"}},
    {"OverrideWithoutReason",
     "    reason: \"exchange\"\n",
     "",
     {":77:3: reason is missing or empty; write reason: \"...\" with why"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadRotaTest, ::testing::ValuesIn(kRotaSlips),
                         [](const auto& slip) { return slip.param.name; });

TEST(NoRotaTest, IsRefused) {
  const std::string path = "sites/harbour-row.textproto";
  Files files = GoodFilesBut(path, "{ on_duty: \"on-call-lead\" }",
                             "{ everybody: \"on-call-lead\" }");
  std::string& text = files[path];
  const size_t begin = text.find("rota {\n");
  text.erase(begin, text.find("\n}\n", begin) + 3 - begin);
  const LoadResult result = LoadConfiguration(files, {.complete = true});
  ASSERT_EQ(result.findings.size(), 1);
  EXPECT_EQ(result.findings[0].message,
            "there is no rota, so nobody is on duty for what cannot wait");
}

}  // namespace
}  // namespace turnstone
