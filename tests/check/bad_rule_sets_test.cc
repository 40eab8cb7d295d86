// Slips in rule sets. Expectations: the comments of the .proto files and, for
// what they do not say, plain reading; no outside source.
#include <gtest/gtest.h>

#include "tests/check/bad_file.h"

namespace turnstone {
namespace {

class BadRuleSetTest : public ::testing::TestWithParam<BadFile> {};

TEST_P(BadRuleSetTest, IsReported) {
  ExpectFindings("packs/small.textproto", GetParam());
}

const std::vector<BadFile> kRuleSetSlips = {
    {"IdPattern",
     "id: \"in-range\"",
     "id: \"In range\"",
     {":15:3: id \"In range\" holds other characters than lower-case letters, "
      "digits and hyphens; write it with lower-case letters, digits and "
      "hyphens only, such as \"low-score-2\""}},
    {"VersionZero",
     "version: 1\ntitle",
     "version: 0\ntitle",
     {":3:1: version is 0; write a whole number of 1 or more"}},
    {"NoVersion",
     "version: 1\ntitle",
     "title",
     {": version is missing; write version: with a whole number of 1 or more"}},
    {"SettingOutsideItsRange",
     "value: 8 low: 0",
     "value: 13 low: 0",
     {":9:17: value is 13; write a whole number from 0 to 12"}},
    {"SettingUpsideDown",
     "value: 3 low: 1 high: 10",
     "value: 3 low: 10 high: 1",
     {":12:29: low is higher than high; swap them"},
     {"range-upside-down"}},
    {"SettingWithoutHigh",
     "value: 3 low: 1 high: 10",
     "value: 3 low: 1",
     {":11:1: high is missing; write high: with any whole number"}},
    {"UnknownUnit",
     "unit: \"days\"",
     "unit: \"weeks\"",
     {":12:45: \"weeks\" is not a unit; write one of points, visits, days, "
      "percent, per thousand or hours",
      ":89:26: setting \"patience\" is in weeks, not in days; name a setting "
      "in days"},
     {"unknown-unit", "wrong-unit"}},
    {"RuleIdTwice",
     "id: \"slipping\"",
     "id: \"in-range\"",
     {":81:3: rule id \"in-range\" is used a second time; choose another; the "
      "first is on line 15"},
     {"name-given-twice"}},
    {"NoOwner",
     "title: \"Slipping\"\n  owner: \"lead\"",
     "title: \"Slipping\"",
     {":80:1: owner is missing or empty; write owner: \"...\" with who answers "
      "for the rule: a role"},
     {"rule-without-owner"}},
    {"NoRationale",
     "title: \"Slipping\"\n  owner: \"lead\"\n"
     "  rationale: \"to try the checks\"",
     "title: \"Slipping\"\n  owner: \"lead\"",
     {":80:1: rationale is missing or empty; write rationale: \"...\" with why "
      "the rule exists"},
     {"rule-without-rationale"}},
    {"NoSource",
     "source: \"invented\"\n  when { practice_report {} }",
     "when { practice_report {} }",
     {":169:1: source is missing or empty; write source: \"...\" with a "
      "publication, \"common practice, no source\" or \"safety inference\""},
     {"rule-without-source"}},
    {"NoWhen",
     "  when { practice_report {} }\n",
     "",
     {":169:1: the rule does not say which event it is asked about; write when "
      "{ ... {} } with one of screening, visit_planned, visit_outcome, "
      "practice_report, enrolment, discharge or contact"},
     {"rule-without-event"}},
    {"EmptyWhen",
     "when { practice_report {} }",
     "when {}",
     {":176:3: the rule does not say which event it is asked about; write when "
      "{ ... {} } with one of screening, visit_planned, visit_outcome, "
      "practice_report, enrolment, discharge or contact"}},
    {"TwoEvents",
     "when { practice_report {} }",
     "when { practice_report {} discharge {} }",
     {":176:29: \"discharge\" cannot stand beside \"practice_report\"; keep "
      "one "
      "of them"}},
    {"NoInstrument",
     "when { screening { instrument: \"mood-3\" } }",
     "when { screening {} }",
     {":21:10: no instrument is named; write instrument: \"...\""},
     {"instrument-not-named"}},
    {"UnknownInstrument",
     "when { screening { instrument: \"mood-3\" } }",
     "when { screening { instrument: \"mood-4\" } }",
     {":21:22: there is no instrument \"mood-4\"; did you mean \"mood-3\"? "
      "There is calm-2 or mood-3"},
     {"unknown-name"}},
    {"UnknownInstrumentInScore",
     "instrument: \"mood-3\"\n          at_least",
     "instrument: \"phq\"\n          at_least",
     {":26:11: there is no instrument \"phq\"; write one of calm-2 or mood-3"}},
    {"NoSelfHarmItem",
     "when { screening { instrument: \"mood-3\" } }",
     "when { screening { instrument: [\"mood-3\", \"calm-2\"] } }",
     {":31:26: \"calm-2\" has no self-harm item; ask about another item, or "
      "leave \"calm-2\" out of the rule's screening",
      ":32:37: \"calm-2\" has no item \"m4\"; ask about another item, or leave "
      "\"calm-2\" out of the rule's screening"},
     {"item-not-in-instrument", "item-not-in-instrument"}},
    {"UnscoredItem",
     "self_harm: true",
     "question: \"m4\"",
     {":31:26: item \"m4\" has no score; ask about a scored item, or use "
      "item_unanswered"}},
    {"NoItem",
     "self_harm: true",
     "self_harm: false",
     {":31:19: the condition names no item; write self_harm: true or question: "
      "\"...\""},
     {"item-not-named"}},
    {"ItemAboveItsScores",
     "at_least { value: 1 } } }",
     "at_least { value: 3 } } }",
     {":31:53: at_least is 3 points; write a number from 0 to 2"}},
    {"ScoreAboveTheTotal",
     "at_most { setting: \"upper\" }",
     "at_most { value: 13 }",
     {":28:21: at_most is 13 points; write a number from 0 to 12"},
     {"number-out-of-range"}},
    {"SettingAboveTheTotal",
     "value: 8 low: 0 high: 12",
     "value: 8 low: 0 high: 13",
     {":28:21: setting \"upper\" may be 0 to 13, but here only 0 to 12 makes "
      "sense; narrow the setting's low and high, or use another setting"},
     {"setting-range-too-wide"}},
    {"NoEnds",
     "          at_least { setting: \"lower\" }\n          at_most { setting: "
     "\"upper\" }\n",
     "",
     {":25:9: the range has neither a lower nor an upper end; write at_least { "
      "... } or at_most { ... } or both"},
     {"range-without-ends"}},
    {"UpsideDownRange",
     "at_least { setting: \"lower\" }",
     "at_least { value: 9 }",
     {":25:9: no total is at least 9 and at most 8; swap at_least and "
      "at_most"},
     {"range-upside-down"}},
    {"UnknownSetting",
     "at_least { setting: \"lower\" }",
     "at_least { setting: \"lowr\" }",
     {":27:22: there is no setting \"lowr\"; did you mean \"lower\"? There is "
      "lower, patience or upper"}},
    {"WrongUnit",
     "after_working_days { setting: \"patience\" }",
     "after_working_days { setting: \"upper\" }",
     {":89:26: setting \"upper\" is in points, not in days; name a setting in "
      "days"},
     {"wrong-unit"}},
    {"ValueAndSetting",
     "at_least { setting: \"lower\" }",
     "at_least { setting: \"lower\" value: 4 }",
     {":27:11: at_least has both a value and a setting; keep one of them"},
     {"fields-exclude-each-other"}},
    {"NeitherValueNorSetting",
     "missed_in_a_row { at_least { value: 2 } }",
     "missed_in_a_row { at_least {} }",
     {":93:37: at_least has neither a value nor a setting; write at_least { "
      "value: ... } from 1 to 20, or at_least { setting: \"...\" } with a "
      "setting in visits"},
     {"number-missing"}},
    {"NoNumber",
     "missed_in_a_row { at_least { value: 2 } }",
     "missed_in_a_row {}",
     {":93:19: at_least has neither a value nor a setting; write at_least { "
      "value: ... } from 1 to 20, or at_least { setting: \"...\" } with a "
      "setting in visits"}},
    {"MissedTooOften",
     "missed_in_a_row { at_least { value: 2 } }",
     "missed_in_a_row { at_least { value: 21 } }",
     {":93:48: at_least is 21 visits; write a number from 1 to 20"}},
    {"MissedNever",
     "missed_in_a_row { at_least { value: 2 } }",
     "missed_in_a_row { at_least { value: 0 } }",
     {":93:48: at_least is 0 visits; write a number from 1 to 20"}},
    {"TooLongAgo",
     "within_days { value: 90 }",
     "within_days { value: 3651 }",
     {":95:53: within_days is 3651 days; write a number from 1 to 3650"}},
    {"MoreThanAllPercent",
     "percent { value: 90 }",
     "percent { value: 101 }",
     {":177:44: percent is 101 percent; write a number from 0 to 100"}},
    {"WaitTooLong",
     "working_days { value: 1 }",
     "working_days { value: 251 }",
     {":111:49: working_days is 251 days; write a number from 1 to 250"}},
    {"ChangeWithinNothing",
     "at_least { value: 2 }\n",
     "at_least { value: 7 }\n",
     {":103:22: at_least is 7 points; write a number from 1 to 6"}},
    {"ComparedWithNothing",
     "than: COMPARED_WITH_BASELINE\n",
     "\n",
     {":100:9: than is missing; write than: with one of "
      "COMPARED_WITH_BASELINE, COMPARED_WITH_PREVIOUS or "
      "COMPARED_WITH_BEST"}},
    {"EmptyAllOf",
     "any_of { condition { willing {} } }",
     "any_of {}",
     {":34:19: there is no condition in it; add condition { ... }, once or "
      "more"},
     {"condition-empty"}},
    {"EmptyNot",
     "not { enrolled {} }",
     "not {}",
     {":33:19: the condition says nothing; write one of all_of, any_of, not, "
      "score, item, item_unanswered, total_disagrees, willing, enrolled, "
      "worse_by, worse_in_a_row, missed_in_a_row, self_harm_earlier, "
      "visit_accounted_for, attended_visits, confidence_below, "
      "screened_within, better_by, trend, outcome, screenings, result, "
      "contact_since, discharged_as or wish_recorded"}},
    {"NoCondition",
     "  condition { confidence_below { percent { value: 90 } } }\n",
     "",
     {":169:1: the rule has no condition; write condition { ... }"},
     {"rule-without-condition"}},
    {"WillingAtAVisit",
     "condition { attended_visits {} }",
     "condition { willing {} }",
     {":94:19: willing looks at a screening, but the rule is asked about a "
      "visit_outcome; write when { screening { ... } }, or use another "
      "condition"},
     {"condition-does-not-fit-event"}},
    {"TotalDisagreesAtAVisit",
     "condition { attended_visits {} }",
     "condition { total_disagrees {} }",
     {":94:19: total_disagrees looks at a screening, but the rule is asked "
      "about a visit_outcome; write when { screening { ... } }, or use another "
      "condition"}},
    {"AccountedForAtAScreening",
     "willing {}",
     "visit_accounted_for {}",
     {":34:40: visit_accounted_for looks at a visit_planned, but the rule is "
      "asked about a screening; write when { visit_planned { ... } }, or use "
      "another condition"}},
    {"MissedAtAScreening",
     "willing {}",
     "missed_in_a_row { at_least { value: 2 } }",
     {":34:40: missed_in_a_row looks at a visit_outcome, but the rule is asked "
      "about a screening; write when { visit_outcome { ... } }, or use another "
      "condition"}},
    {"ConfidenceAtAScreening",
     "willing {}",
     "confidence_below { percent { value: 2 } }",
     {":34:40: confidence_below looks at a practice_report, but the rule is "
      "asked about a screening; write when { practice_report { ... } }, or use "
      "another condition"}},
    {"NestedTooDeeply",
     "condition { confidence_below { percent { value: 90 } } }",
     "condition { not { not { not { not { not { not { not { not { not { not { "
     "not { not { not { not { not { not { not { not { not { not { enrolled {} "
     "} } } } } } } } } } } } } } } } } } } } }",
     {":177:129: conditions are nested more than 20 deep; write more, simpler "
      "rules"},
     {"condition-too-deep"}},
    {"NoKind",
     "  kind: ALERT_KIND_OUTREACH\n",
     "",
     {":80:1: kind is missing; write kind: with one of ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING"}},
    {"UnknownKind",
     "ALERT_KIND_OUTREACH",
     "ALERT_KIND_OUTREECH",
     {":112:9: \"ALERT_KIND_OUTREECH\" is not a value of \"kind\"; did you "
      "mean "
      "\"ALERT_KIND_OUTREACH\"? There is ALERT_KIND_SAFETY, "
      "ALERT_KIND_REFERRAL, ALERT_KIND_STEPPED_CARE, ALERT_KIND_OUTREACH or "
      "ALERT_KIND_COACHING"}},
    {"NoPriority",
     "  priority: PRIORITY_STAT\n",
     "",
     {":14:1: priority is missing; write priority: with one of "
      "PRIORITY_ROUTINE, PRIORITY_URGENT, PRIORITY_ASAP or PRIORITY_STAT"}},
    {"SafetyCanWait",
     "priority: PRIORITY_STAT",
     "priority: PRIORITY_URGENT",
     {":38:3: a safety alert cannot wait as long as this priority lets it; "
      "write PRIORITY_ASAP or PRIORITY_STAT"},
     {"safety-alert-must-not-wait"}},
    {"SafetyWaitsUntilMoreIsKnown",
     "  kind: ALERT_KIND_SAFETY\n",
     "  on_unknown { wait_then_raise { working_days { value: 1 } } } "
     "kind: ALERT_KIND_SAFETY\n",
     {":37:16: a safety alert cannot wait until more is known; leave "
      "on_unknown out to raise at once"},
     {"safety-alert-must-not-wait"}},
    {"SafetyNotLatched",
     "  kind: ALERT_KIND_SAFETY\n  priority: PRIORITY_STAT\n  latched: true\n",
     "  kind: ALERT_KIND_SAFETY\n  priority: PRIORITY_STAT\n  latched: false\n",
     {":39:3: a safety alert must stay until a person closes it; write "
      "latched: true"},
     {"safety-alert-not-latched"}},
    {"LatchedCoaching",
     "latched: false",
     "latched: true",
     {":180:3: a coaching alert cannot be latched; remove latched: true, or "
      "choose another kind"},
     {"coaching-alert-latched"}},
    {"FalseAndThenTrue",
     "latched: false",
     "latched: false latched: true",
     {":180:18: \"latched\" is written twice in one Rule; keep one of them"}},
    {"OnUnknownSaysNothing",
     "on_unknown { wait_then_raise { working_days { value: 1 } } }",
     "on_unknown {}",
     {":111:3: on_unknown does not say what to do; write one of "
      "raise_for_review or wait_then_raise, or leave on_unknown out to raise "
      "at once"},
     {"on-unknown-empty"}},
    {"NoProtocol",
     "  protocol: \"look\"\n",
     "",
     {":14:1: protocol is missing or empty; write protocol: \"...\" with the "
      "id of the site's protocol reminder"}},
};
INSTANTIATE_TEST_SUITE_P(Slips, BadRuleSetTest,
                         ::testing::ValuesIn(kRuleSetSlips),
                         [](const auto& slip) { return slip.param.name; });

}  // namespace
}  // namespace turnstone
