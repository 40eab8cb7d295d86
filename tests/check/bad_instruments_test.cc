// Slips in instruments. Expectations: the comments of the .proto files and, for
// what they do not say, plain reading; no outside source.
#include <gtest/gtest.h>

#include "tests/check/bad_file.h"

namespace turnstone {
namespace {

class BadInstrumentTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadInstrumentTest, IsReported) {
  ExpectFindings("instruments/mood-3.textproto", GetParam());
}

const std::vector<BadFile> kInstrumentSlips = {
    {"CheckDigitOfTotal",
     "source: \"invented\"\nitem { code: \"m1\"",
     "source: \"invented\" total_code: \"44261-5\"\nitem { code: \"m1\"",
     {":7:20: code \"44261-5\" looks like a LOINC code, but its last digit, "
      "the check digit, is wrong; compare it with the source, digit by digit"}},
    {"NoName",
     "name: \"Mood-3\"",
     "#",
     {": name is missing or empty; write name: \"...\" with the name "
      "clinicians use"}},
    {"NameOfSpaces",
     "name: \"Mood-3\"",
     "name: \" \"",
     {":3:1: name is missing or empty; write name: \"...\" with the name "
      "clinicians use"}},
    {"NoDirection",
     "direction: DIRECTION_HIGHER_IS_WORSE",
     "#",
     {": direction is missing; write direction: with one of "
      "DIRECTION_HIGHER_IS_WORSE or DIRECTION_HIGHER_IS_BETTER"},
     {"choice-missing"}},
    {"NoSource",
     "source: \"invented\"\nitem { code: \"m1\"",
     "item { code: \"m1\"",
     {": source is missing or empty; write source: \"...\" with where items, "
      "codes and keys come from"},
     {"source-missing"}},
    {"UnknownChoice",
     "DIRECTION_HIGHER_IS_WORSE",
     "DIRECTION_HIGHER_IS_WORST",
     {":5:12: \"DIRECTION_HIGHER_IS_WORST\" is not a value of \"direction\"; "
      "did you mean \"DIRECTION_HIGHER_IS_WORSE\"? There is "
      "DIRECTION_HIGHER_IS_WORSE or DIRECTION_HIGHER_IS_BETTER"},
     {"value-of-wrong-kind"}},
    {"ChoiceByNumber",
     "DIRECTION_HIGHER_IS_WORSE",
     "1",
     {":5:12: \"1\" is not a value of \"direction\"; write one of "
      "DIRECTION_HIGHER_IS_WORSE or DIRECTION_HIGHER_IS_BETTER"}},
    {"UnknownField",
     "name: \"Mood-3\"",
     "nmae: \"Mood-3\"",
     {":3:1: \"nmae\" is not a field of Instrument; did you mean \"name\"? "
      "There is id, name, panel_code, total_code, item, answer_list, band, "
      "band_source, direction, multiplier, prorating, symptom_count, result, "
      "change_preset, rights or source"},
     {"unknown-field"}},
    {"TwoUnknownFields",
     "label: \"low mood\"",
     "text: \"low mood\" hint { a: 1 }",
     {":8:41: \"text\" is not a field of Item; write one of code, also_coded, "
      "label, answers, also_accepts, reversed, unscored or self_harm",
      ":8:58: \"hint\" is not a field of Item; write one of code, also_coded, "
      "label, answers, also_accepts, reversed, unscored or self_harm"}},
    {"WrittenTwice",
     "name: \"Mood-3\"",
     "name: \"Mood-3\" name: \"M\"",
     {":3:16: \"name\" is written twice in one Instrument; keep one of them"},
     {"field-written-twice"}},
    {"TextForNumber",
     "multiplier: 2",
     "multiplier: \"2\"",
     {":6:13: \"2\" is not a value of \"multiplier\"; write a whole number, "
      "without quotation marks"}},
    {"NumberTooLarge",
     "multiplier: 2",
     "multiplier: 99999999999",
     {":6:13: \"99999999999\" is not a value of \"multiplier\"; write a number "
      "nearer to zero"}},
    {"NumberForText",
     "name: \"Mood-3\"",
     "name: Mood",
     {":3:7: \"Mood\" is not a value of \"name\"; write it in quotation "
      "marks"}},
    {"NotTrueNorFalse",
     "unscored: true",
     "unscored: yes",
     {":16:62: \"yes\" is not a value of \"unscored\"; write true or false"}},
    {"NoColon",
     "name: \"Mood-3\"",
     "name \"Mood-3\"",
     {":3:6: \"Mood-3\" stands after \"name\"; write name: and the value"},
     {"file-unreadable"}},
    {"NoValue",
     "other_from: 2\n  source: \"invented\"\n}",
     "source: \"invented\"\n  other_from: }",
     {":38:15: \"}\" is not a value of \"other_from\"; write a whole number, "
      "without quotation marks"}},
    {"NoClosingBrace",
     "other_from: 2\n  source: \"invented\"\n}",
     "other_from: 2\n  source: \"invented\"\n",
     {":40:1: the file ends within the \"symptom_count\" begun on line 32; add "
      "the missing \"}\""},
     {"brackets-do-not-match"}},
    {"NoClosingQuote",
     "name: \"Mood-3\"",
     "name: \"Mood-3",
     {":3:14: String literals cannot cross line boundaries; write it as "
      "protobuf text format asks"}},
    {"NotUtf8",
     "label: \"low mood\"",
     "label: \"low \\xff\"",
     {":8:48: \"low \\xff\" is not a value of \"label\"; save the file as "
      "UTF-8"}},
    {"ListWithoutComma",
     "core: [\"m1\", \"m2\"]",
     "core: [\"m1\" x \"m2\"]",
     {":35:15: \"x\" stands in the list of \"core\"; write \",\" between the "
      "values and \"]\" after the last"}},
    {"CheckDigitOfQuestion",
     "44250-9",
     "44250-8",
     {":8:19: code \"44250-8\" looks like a LOINC code, but its last digit, "
      "the check digit, is wrong; compare it with the source, digit by digit"},
     {"code-check-digit-wrong"}},
    {"CheckDigitOfAnswer",
     "LA6568-5",
     "LA6568-6",
     {":19:12: code \"LA6568-6\" looks like a LOINC code, but its last digit, "
      "the check digit, is wrong; compare it with the source, digit by digit"}},
    {"CodeWithSpace",
     "code: \"sometimes\"",
     "code: \"some times\"",
     {":20:12: code \"some times\" holds other characters than letters, digits "
      "and hyphens; write it without them"},
     {"code-not-plain"}},
    {"NoCode",
     "code: \"m3\" ",
     "",
     {":15:1: the code is missing or empty; write a LOINC code, or a local one "
      "of letters, digits and hyphens"},
     {"code-missing"}},
    {"SameQuestionTwice",
     "code: \"m2\"",
     "code: \"m1\"",
     {":10:3: question code \"m1\" is used a second time; choose another; the "
      "first is on line 8"}},
    {"AlsoCodedTwice",
     "code: \"m2\"",
     "code: \"44250-9\"",
     {":10:3: question code \"44250-9\" is used a second time; choose another; "
      "the first is on line 8"}},
    {"NoLabel",
     "label: \"no pleasure\"",
     "",
     {":9:1: label is missing or empty; write label: \"...\" with what the "
      "question asks about"}},
    {"UnknownAnswerList",
     "answers: \"said\"",
     "answers: \"sayd\"",
     {":16:36: there is no answer list \"sayd\"; did you mean \"said\"? There "
      "is often or said",
      ":23:1: no item uses answer list \"said\"; remove it, or name it in an "
      "item's answers"}},
    {"EmptyAnswerList",
     "  answer { code: \"yes\" }\n  answer { code: \"no\" }\n",
     "",
     {":23:1: answer list \"said\" is empty; add answer { code: \"...\" }"}},
    {"SameAnswerTwice",
     "code: \"always\"",
     "code: \"sometimes\"",
     {":21:12: answer \"sometimes\" is used a second time; choose another; the "
      "first is on line 20"}},
    {"AlsoAcceptsAListedAnswer",
     "code: \"constantly\"",
     "code: \"always\"",
     {":13:18: answer \"always\" is used a second time; choose another; the "
      "first is on line 21"}},
    {"ScoreTooHigh",
     "code: \"sometimes\" score: 1",
     "code: \"sometimes\" score: 101",
     {":20:30: score is 101; write a whole number from 0 to 100"}},
    {"ScoreBelowZero",
     "code: \"sometimes\" score: 1",
     "code: \"sometimes\" score: -1",
     {":20:30: score is -1; write a whole number from 0 to 100"}},
    {"NoScore",
     "code: \"sometimes\" score: 1",
     "code: \"sometimes\"",
     {":20:3: answer \"sometimes\" has no score, but item \"m1\" counts "
      "towards the total; write score: with its points, or mark the item "
      "unscored: true"},
     {"answer-without-score"}},
    {"SelfHarmUnscored",
     "self_harm: true",
     "self_harm: true unscored: true",
     {":15:71: the self-harm item is not scored, so that no rule could see it; "
      "remove unscored: true"},
     {"self-harm-item-unscored"}},
    {"TwoSelfHarmItems",
     "label: \"low mood\"",
     "label: \"low mood\" self_harm: true",
     {":15:55: a second item is marked self_harm; mark one item only"},
     {"second-self-harm-item"}},
    {"MultiplierTooHigh",
     "multiplier: 2",
     "multiplier: 11",
     {":6:1: multiplier is 11; write a whole number from 1 to 10"}},
    {"BandGap",
     "low: 6",
     "low: 7",
     {":29:8: the band begins at 7, not at 6, so totals have no band or two; "
      "write low: 6"},
     {"bands-leave-gap"}},
    {"BandOverlap",
     "low: 6",
     "low: 5",
     {":29:8: the band begins at 5, not at 6, so totals have no band or two; "
      "write low: 6"}},
    {"BandsEndEarly",
     "high: 12",
     "high: 11",
     {":29:15: the last band ends at 11, but the highest total is 12; write "
      "high: 12"}},
    {"BandWithoutLow",
     "low: 0 ",
     "",
     {":28:1: low is missing; write low: with a whole number of 0 or more"}},
    {"NoBandSource",
     "band_source: \"invented\"",
     "#",
     {": band_source is missing or empty; write band_source: \"...\" with "
      "where the bands come from"}},
    {"ProratingAlmostNothing",
     "most_missing: 2",
     "most_missing: 3",
     {":31:13: most_missing is 3; write a whole number from 1 to 2"}},
    {"UnknownCountingItem",
     "counts_from_one: \"m3\"",
     "counts_from_one: \"m9\"",
     {":34:3: there is no item \"m9\"; write the code of one of the items "
      "above"}},
    {"UnscoredCoreItem",
     "core: [\"m1\", \"m2\"]",
     "core: [\"m1\", \"m4\"]",
     {":35:3: item \"m4\" is not scored; write the code of a scored item"},
     {"item-not-scored"}},
    {"NoCountsFrom",
     "counts_from: 2",
     "#",
     {":32:1: counts_from is missing; write counts_from: with a whole number "
      "from 1 to 100"}},
    {"OtherAboveMajor",
     "major_from: 3\n  other_from: 2",
     "major_from: 2\n  other_from: 3",
     {":37:3: other_from is higher than major_from; write a number below "
      "major_from"},
     {"range-upside-down"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadInstrumentTest,
                         ::testing::ValuesIn(kInstrumentSlips),
                         [](const auto& slip) { return slip.param.name; });

}  // namespace
}  // namespace turnstone
