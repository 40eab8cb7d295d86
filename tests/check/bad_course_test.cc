// Slips in conditions on change and course, in numbers taken from a
// reliability, and in instruments that keep a result. Expectations: the
// comments of the .proto files and, for what they do not say, plain reading; no
// outside source.
#include <gtest/gtest.h>

#include "tests/check/bad_file.h"

namespace turnstone {
namespace {

class BadCourseTest : public ::testing::TestWithParam<BadFile> {};
TEST_P(BadCourseTest, IsReported) {
  ExpectFindings("packs/small.textproto", GetParam());
}

// A condition in place of the one on line 107, which begins in column 9.
BadFile Slip(const std::string& name, const std::string& condition,
             const std::vector<std::string>& findings) {
  return {name, "worse_in_a_row { instrument: \"mood-3\" times { value: 2 } }",
          condition, findings};
}

const std::vector<BadFile> kConditions = {
    Slip(
        "PointsAndPercent",
        "better_by { instrument: \"mood-3\" than: COMPARED_WITH_BEST at_least "
        "{ value: 2 } at_least_percent { value: 50 } }",
        {":107:89: both at_least and at_least_percent are written; keep one of "
         "them"}),
    Slip(
        "NeitherPointsNorPercent",
        "better_by { instrument: \"mood-3\" than: COMPARED_WITH_BEST }",
        {":107:9: at_least has neither a value nor a setting; write at_least { "
         "value: ... } from 1 to 12, or at_least { setting: \"...\" } with a "
         "setting in points"}),
    Slip("PercentOfAScaleThatIsBetterWhenHigher",
         "worse_by { instrument: \"calm-2\" than: COMPARED_WITH_BEST "
         "at_least_percent { value: 50 } }",
         {":107:66: a share of a total of Calm-2 has no meaning: higher is "
          "better; use worse_by or better_by with at_least { ... } in points"}),
    Slip("PercentAboveAHundred",
         "worse_by { instrument: \"mood-3\" than: COMPARED_WITH_BEST "
         "at_least_percent { value: 101 } }",
         {":107:85: at_least_percent is 101 percent; write a number from 1 to "
          "100"}),
    Slip(
        "RowOfNone",
        "score { instrument: \"mood-3\" at_most { value: 2 } in_a_row { value: "
        "0 } }",
        {":107:70: in_a_row is 0 visits; write a number from 1 to 20"}),
    Slip("TrendWithoutDirection",
         "trend { instrument: \"mood-3\" p_at_most { value: 50 } }",
         {":107:9: direction is missing; write direction: with one of "
          "TREND_DIRECTION_WORSENING or TREND_DIRECTION_IMPROVING"}),
    Slip("TrendAtAllTimes",
         "trend { instrument: \"mood-3\" direction: TREND_DIRECTION_WORSENING "
         "p_at_most { value: 1000 } }",
         {":107:87: p_at_most is 1000 per thousand; write a number from 1 to "
          "500"}),
    Slip("OutcomeOfNoKind",
         "outcome { instrument: \"mood-3\" remission_at_most { value: 2 } "
         "response_percent { value: 50 } reliable_change { value: 4 } }",
         {":107:9: is is missing; write is: with one of "
          "COURSE_OUTCOME_WORSE, COURSE_OUTCOME_REMISSION, "
          "COURSE_OUTCOME_RESPONSE, COURSE_OUTCOME_PARTIAL or "
          "COURSE_OUTCOME_NO_CHANGE, once or more"}),
    Slip("OutcomeUnspecified",
         "outcome { instrument: \"mood-3\" is: COURSE_OUTCOME_UNSPECIFIED "
         "remission_at_most { value: 2 } response_percent { value: 50 } "
         "reliable_change { value: 4 } }",
         {":107:40: is is unspecified; write is: with one of "
          "COURSE_OUTCOME_WORSE, COURSE_OUTCOME_REMISSION, "
          "COURSE_OUTCOME_RESPONSE, COURSE_OUTCOME_PARTIAL or "
          "COURSE_OUTCOME_NO_CHANGE, once or more"}),
    Slip("ReasonOfNoKind", "discharged_as {}",
         {":107:9: reason is missing; write reason: with "
          "one of DISCHARGE_REASON_COMPLETED, DISCHARGE_REASON_STEPPED_UP, "
          "DISCHARGE_REASON_WITHDREW, DISCHARGE_REASON_LOST_CONTACT, "
          "DISCHARGE_REASON_MOVED_AWAY, DISCHARGE_REASON_DIED or "
          "DISCHARGE_REASON_OTHER, once or more"}),
    Slip("ScreeningsOfAnUnknownInstrument",
         "screenings { instrument: \"moody\" at_least { value: 2 } }",
         {":107:22: there is no instrument \"moody\"; did you mean "
          "\"mood-3\"? There is calm-2 or mood-3"}),
    Slip("WishOfAVisit", "wish_recorded {}",
         {":107:9: wish_recorded looks at a screening, but the rule is asked "
          "about a visit_outcome; write when { screening { ... } }, or use "
          "another condition"}),
    Slip("ResultOfAVisit", "result { code: \"seen\" }",
         {":107:9: result looks at a screening, but the rule is asked about a "
          "visit_outcome; write when { screening { ... } }, or use another "
          "condition"}),
    {"ResultOfAnInstrumentWithItems",
     "condition { any_of { condition { willing {} } } }",
     "condition { result { code: \"seen\" } }",
     {":34:28: \"mood-3\" has no result \"seen\"; ask about an instrument that "
      "has results"}},
    {"NoResultNamed",
     "condition { any_of { condition { willing {} } } }",
     "condition { result {} }",
     {":34:19: no result is named; write code: \"...\", once or more"}},
    {"BothWaits",
     "after_working_days { setting: \"patience\" }",
     "after_working_days { setting: \"patience\" } after_days { value: 3 }",
     {":89:48: both after_working_days and after_days are written; keep one of "
      "them"}},
};
INSTANTIATE_TEST_SUITE_P(Conditions, BadCourseTest,
                         ::testing::ValuesIn(kConditions),
                         [](const auto& slip) { return slip.param.name; });

// In place of value: 8 of the setting on line 9, from column 17 on.
BadFile Number(const std::string& name, const std::string& change,
               const std::vector<std::string>& findings) {
  return {name, "value: 8 low: 0", change + " low: 0", findings};
}
const std::vector<BadFile> kNumbers = {
    Number("ValueAndReliability",
           "value: 8 reliable_change { instrument: \"mood-3\" "
           "standard_deviation: 3 reliability: 0.8 }",
           {":9:26: both value and reliable_change are written; keep one of "
            "them"}),
    Number("UnknownPreset",
           "reliable_change { instrument: \"mood-3\" preset: \"none\" }",
           {":9:56: \"mood-3\" has no change preset \"none\"; write "
            "standard_deviation: and reliability: instead"}),
    Number("PresetAndFigures",
           "reliable_change { instrument: \"mood-3\" preset: \"none\" "
           "reliability: 0.8 }",
           {":9:17: it is not clear where the number is to come from; write "
            "either preset: \"...\", or standard_deviation: and reliability:"}),
    Number("NoFigures", "reliable_change { instrument: \"mood-3\" }",
           {":9:17: it is not clear where the number is to come from; write "
            "either preset: \"...\", or standard_deviation: and reliability:"}),
    Number("PerfectReliability",
           "reliable_change { instrument: \"mood-3\" standard_deviation: 3 "
           "reliability: 1 }",
           {":9:78: reliability is missing or out of range; write a number of "
            "at least 0 and below 1, such as 0.84"}),
    Number("NoSpread",
           "reliable_change { instrument: \"mood-3\" reliability: 0.8 }",
           {":9:17: standard_deviation is missing or out of range; write the "
            "spread of the totals in points, above 0 and up to 1000, such as "
            "6.1"}),
    Number("SpreadInWords",
           "reliable_change { instrument: \"mood-3\" standard_deviation: inf "
           "reliability: 0.8 }",
           {":9:76: \"inf\" is not a value of \"standard_deviation\"; write a "
            "number such as 6.1, without quotation marks"}),
    // 1.96 x sqrt 2 x 9 x sqrt 0.2 = 11.2, so 12, and 2 more than it may be.
    {"BeyondWhatASiteMayChoose",
     "value: 8 low: 0 high: 12",
     "reliable_change { instrument: \"mood-3\" standard_deviation: 9 "
     "reliability: 0.8 } low: 0 high: 10",
     {":8:1: value is 12; write a whole number from 0 to 10"}},
};
INSTANTIATE_TEST_SUITE_P(Numbers, BadCourseTest, ::testing::ValuesIn(kNumbers),
                         [](const auto& slip) { return slip.param.name; });

class BadResultTest : public ::testing::TestWithParam<BadFile> {};
TEST_P(BadResultTest, IsReported) {
  ExpectFindings("instruments/mood-3.textproto", GetParam());
}
// What stands at `place` makes no sense beside a result.
std::string BesideResult(const std::string& place, const std::string& field) {
  return place + ": " + field +
         " stands beside result, but an instrument that keeps only a result "
         "has "
         "no total; keep either results or items";
}

const std::vector<BadFile> kInstruments = {
    {"ResultsBesideItems",
     "band_source: \"invented\"",
     "band_source: \"invented\" result { code: \"done\" label: \"done\" }",
     {BesideResult(":5:1", "direction"), BesideResult(":6:1", "multiplier"),
      BesideResult(":8:1", "item"), BesideResult(":17:1", "answer_list"),
      BesideResult(":28:1", "band"), BesideResult(":31:1", "prorating"),
      BesideResult(":32:1", "symptom_count")}},
    {"PresetWithPointsAndFigures",
     "band_source: \"invented\"",
     "band_source: \"invented\" change_preset { name: \"a\" points: 3 "
     "reliability: 0.8 source: \"invented\" }",
     {":30:51: points stand beside a standard deviation; keep one of them"}},
    {"PresetWithNeither",
     "band_source: \"invented\"",
     "band_source: \"invented\" change_preset { name: \"a\" source: \"b\" }",
     {":30:25: points is missing; write points: with a whole number from 1 to "
      "100"}},
    {"PresetTwice",
     "band_source: \"invented\"",
     "band_source: \"invented\" change_preset { name: \"a\" points: 3 source: "
     "\"b\" } change_preset { name: \"a\" points: 3 source: \"b\" }",
     {":30:91: change preset \"a\" is used a second time; choose another; the "
      "first is on line 30"}},
};
INSTANTIATE_TEST_SUITE_P(Instruments, BadResultTest,
                         ::testing::ValuesIn(kInstruments),
                         [](const auto& slip) { return slip.param.name; });

}  // namespace
}  // namespace turnstone
