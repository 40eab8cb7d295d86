// Slips in site files. Expectations: the comments of the .proto files and, for
// what they do not say, plain reading; no outside source.
#include <gtest/gtest.h>

#include "tests/check/bad_file.h"

namespace turnstone {
namespace {

class BadSiteTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadSiteTest, IsReported) {
  ExpectFindings("sites/harbour-row.textproto", GetParam());
}

const std::vector<BadFile> kSiteSlips = {
    {"IdPattern",
     "id: \"harbour-row\"",
     "id: \"harbour_row\"",
     {":2:1: id \"harbour_row\" holds other characters than lower-case "
      "letters, digits and hyphens; write it with lower-case letters, digits "
      "and hyphens only, such as \"low-score-2\""}},
    {"NoName",
     "name: \"Harbour Row\"",
     "#",
     {": name is missing or empty; write name: \"...\" with the team's name"}},
    {"UnknownZone",
     "Europe/Dublin",
     "Europe/Dublim",
     {":4:1: there is no time zone \"Europe/Dublim\"; write an IANA name, such "
      "as \"Europe/Dublin\""},
     {"time-zone-unknown"}},
    {"ThisMachinesZone",
     "Europe/Dublin",
     "localtime",
     {":4:1: there is no time zone \"localtime\"; write an IANA name, such as "
      "\"Europe/Dublin\""}},
    {"NoZone",
     "time_zone: \"Europe/Dublin\"",
     "#",
     {": time_zone is missing or empty; write an IANA name, such as "
      "\"Europe/Dublin\""}},
    {"UnknownRuleSet",
     "rule_set: \"small\"",
     "rule_set: \"smal\"",
     {":5:1: there is no rule set \"smal\"; did you mean \"small\"? There is "
      "small"}},
    {"NoRuleSet",
     "rule_set: \"small\"",
     "#",
     {": rule_set is missing or empty; write rule_set: \"...\" with the id of "
      "a rule set"}},
    {"NoVersion",
     "version: 4\n",
     "",
     {": version is missing; write version: with a whole number of 1 or more"}},
    {"VersionZero",
     "version: 4",
     "version: 0",
     {":31:1: version is 0; write a whole number of 1 or more"}},
    {"NoLongestHold",
     "longest_hold_days: 14",
     "",
     {": longest_hold_days is missing; write longest_hold_days: with a whole "
      "number from 1 to 90"}},
    {"HoldOfASeason",
     "longest_hold_days: 14",
     "longest_hold_days: 91",
     {":118:1: longest_hold_days is 91; write a whole number from 1 to 90"}},
    {"TooManyVisits",
     "planned_visits: 8",
     "planned_visits: 53",
     {":6:1: planned_visits is 53; write a whole number from 1 to 52"}},
    {"NoVisits",
     "planned_visits: 8",
     "#",
     {": planned_visits is missing; write planned_visits: with a whole number "
      "from 1 to 52"}},
    {"NoWorkingDay",
     "  working_day: [MONDAY, TUESDAY, WEDNESDAY]\n",
     "",
     {":7:1: the calendar has no working day; write calendar { working_day: "
      "MONDAY ... }"},
     {"no-working-day"}},
    {"NoCalendar",
     "calendar {\n  working_day: [MONDAY, TUESDAY, WEDNESDAY]\n  "
     "day_start: \"08:30\" day_end: \"17:30\"\n  holiday: \"2027-03-17\"\n  "
     "holiday: \"2027-12-25\"\n}\n",
     "",
     {": the calendar has no working day; write calendar { working_day: MONDAY "
      "... }",
      ": day_start is missing or empty; write hours and minutes from \"00:00\" "
      "to \"23:59\", such as \"09:00\"",
      ": day_end is missing or empty; write hours and minutes from \"00:01\" "
      "to \"24:00\", such as \"17:30\""}},
    {"WorkingDayTwice",
     "TUESDAY",
     "MONDAY",
     {":8:3: working day \"MONDAY\" is used a second time; choose another; the "
      "first is on line 8"}},
    {"UnknownDay",
     "TUESDAY",
     "TEUSDAY",
     {":8:25: \"TEUSDAY\" is not a value of \"working_day\"; did you mean "
      "\"TUESDAY\"? There is MONDAY, TUESDAY, WEDNESDAY, THURSDAY, FRIDAY, "
      "SATURDAY or SUNDAY"}},
    {"UnspecifiedDay",
     "TUESDAY",
     "WEEKDAY_UNSPECIFIED",
     {":8:3: WEEKDAY_UNSPECIFIED is no day; write MONDAY to SUNDAY"}},
    {"DayEndAtMidnight",
     "\"17:30\"",
     "\"00:00\"",
     {":9:22: day_end \"00:00\" is not a time of day; write hours and minutes "
      "from \"00:01\" to \"24:00\", such as \"17:30\""}},
    {"DayEndTooLate",
     "\"17:30\"",
     "\"24:01\"",
     {":9:22: day_end \"24:01\" is not a time of day; write hours and minutes "
      "from \"00:01\" to \"24:00\", such as \"17:30\""}},
    {"DayEndTwelveHourClock",
     "\"17:30\"",
     "\"5:30 pm\"",
     {":9:22: day_end \"5:30 pm\" is not a time of day; write hours and "
      "minutes "
      "from \"00:01\" to \"24:00\", such as \"17:30\""}},
    {"NoDayStart",
     "day_start: \"08:30\"",
     "",
     {":7:1: day_start is missing or empty; write hours and minutes from "
      "\"00:00\" to \"23:59\", such as \"09:00\""}},
    {"DayStartAtTheLastMidnight",
     "\"08:30\"",
     "\"24:00\"",
     {":9:3: day_start \"24:00\" is not a time of day; write hours and minutes "
      "from \"00:00\" to \"23:59\", such as \"09:00\""}},
    {"DayOfNoLength",
     "\"08:30\"",
     "\"17:30\"",
     {":9:3: day_start \"17:30\" is not before day_end \"17:30\"; write an "
      "earlier one"},
     {"ends-before-it-begins"}},
    {"NoSuchHoliday",
     "2027-12-25",
     "2027-02-29",
     {":11:3: holiday \"2027-02-29\" is not a date; write year, month and day, "
      "such as \"2027-03-17\""}},
    {"ShortHoliday",
     "2027-12-25",
     "2027-12-5",
     {":11:3: holiday \"2027-12-5\" is not a date; write year, month and day, "
      "such as \"2027-03-17\""}},
    {"HolidayTwice",
     "2027-12-25",
     "2027-03-17",
     {":11:3: holiday \"2027-03-17\" is used a second time; choose another; "
      "the first is on line 10"}},
    {"UnknownOverride",
     "name: \"upper\"",
     "name: \"uper\"",
     {":13:12: there is no setting \"uper\"; did you mean \"upper\"? There is "
      "lower, patience or upper"}},
    {"OverrideTooHigh",
     "value: 10",
     "value: 13",
     {":13:26: value is 13; write a whole number from 0 to 12"}},
    {"OverrideWithoutValue",
     "value: 10 ",
     "",
     {":13:1: value is missing; write value: with a whole number from 0 to "
      "12"}},
    {"OverrideSilencesARule",
     "value: 10",
     "value: 3",
     {":13:26: with this number rule \"in-range\" asks for a total of at least "
      "4 and at most 3, which no total is; choose numbers that leave a range"},
     {"override-leaves-no-range"}},
    {"NoReason",
     "reason: \"lead, to try the checks\"",
     "",
     {":13:1: reason is missing or empty; write reason: \"...\" with who "
      "decided and why"}},
    {"OverrideTwice",
     "override { name: \"upper\"",
     "override { name: \"upper\" value: 9 reason: \"x\" }\noverride { name: "
     "\"upper\"",
     {":14:12: override \"upper\" is used a second time; choose another; the "
      "first is on line 13"}},
    {"MissingProtocol",
     "id: \"ring\"",
     "id: \"rang\"",
     {": rule \"slipping\" names protocol \"ring\", which the site does not "
      "have; add protocol { id: \"ring\" ... }"},
     {"protocol-missing"}},
    {"ProtocolTwice",
     "id: \"ring\"",
     "id: \"look\"",
     {": rule \"slipping\" names protocol \"ring\", which the site does not "
      "have; add protocol { id: \"ring\" ... }",
      ":22:3: protocol \"look\" is used a second time; choose another; the "
      "first is on line 15"}},
    {"NoText",
     "text: \"Ring.\"",
     "",
     {":21:1: text is missing or empty; write text: \"...\" with what to do, "
      "in the site's own words"}},
    {"ReviewNever",
     "2028-02-29",
     "2027-02-29",
     {":26:3: review_by \"2027-02-29\" is not a date; write year, month and "
      "day, such as \"2027-03-17\""}},
    {"NoClosing",
     "closing_outcome { id: \"seen\" title: \"Seen\" }\nclosing_outcome { id: "
     "\"rung\" title: \"Rung\" }\n",
     "",
     {": there is no closing_outcome, so no alert could be closed; add "
      "closing_outcome { id: \"...\" title: \"...\" }"},
     {"closing-outcome-missing"}},
    {"ClosingTwice",
     "id: \"rung\"",
     "id: \"seen\"",
     {":29:19: closing outcome \"seen\" is used a second time; choose another; "
      "the first is on line 28"}},
    {"NoImmediateDanger",
     "immediate_danger: \"PLACEHOLDER: the site's own number\"",
     "",
     {": immediate_danger is missing or empty; write immediate_danger: \"...\" "
      "with what to do in immediate danger, with the number to call"}},
    {"RetentionOfAFortnight",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nretention { after_discharge_days: 14 }",
     {":119:13: after_discharge_days is 14; write a whole number from 30 to "
      "36500"}},
    {"RetentionOfMessagesForADay",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nretention { messages_days: 1 }",
     {":119:13: messages_days is 1; write a whole number from 7 to 36500"}},
    {"RetentionWithoutATime",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nretention {}",
     {":119:1: retention says nothing, so everything is kept for ever; write "
      "after_discharge_days, messages_days or both, or leave retention out"},
     {"retention-empty"}},
    {"SignOfLifeToNobody",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nsign_of_life { at: \"07:30\" }",
     {":119:1: sign_of_life names nobody, so nobody would miss it; write "
      "person: \"...\" with the id of one of the team"},
     {"sign-of-life-to-nobody"}},
    {"SignOfLifeToAStranger",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nsign_of_life { at: \"07:30\" person: \"x.dock\" }",
     {":119:28: \"x.dock\" is not one of the team; write the id of a person { "
      "... } of this file"},
     {"sign-of-life-unknown-person"}},
    {"SignOfLifeUnreachable",
     "longest_hold_days: 14",
     "longest_hold_days: 14\nsign_of_life { at: \"07:30\" person: \"d.yarrow\" "
     "}",
     {":119:28: no message reaches \"d.yarrow\"; give the person a reach { ... "
      "}, or name another"},
     {"sign-of-life-unreachable"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadSiteTest, ::testing::ValuesIn(kSiteSlips),
                         [](const auto& slip) { return slip.param.name; });

}  // namespace
}  // namespace turnstone
