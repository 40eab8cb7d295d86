// What `rules check` must find. Defects of our own invention; what each breaks
// is said in the comments of rule.proto and site.proto.
#include "tests/defects/planted.h"

namespace turnstone {
namespace {

constexpr char kSelfHarm[] = R"(id: "self-harm-positive")";
constexpr char kAbove[] = R"(id: "score-above-range")";
constexpr char kOffer[] = R"(id: "score-in-range-and-willing")";
constexpr char kBelow[] = R"(id: "score-below-range")";
constexpr char kAboveScore[] =
    R"(score { instrument: "phq-9" at_least { setting: "above-range" } })";

}  // namespace

std::vector<Defect> FoundByReading() {
  const std::string item = "item { self_harm: true at_least";
  return {
      {"NoSource",
       kPack,
       {{kSelfHarm, "  source:", "  #"}},
       "rule-without-source"},
      {"NoOwner",
       kPack,
       {{kSelfHarm, "  owner:", "  #"}},
       "rule-without-owner"},
      {"NoRationale",
       kPack,
       {{kSelfHarm, "  rationale:", "  #"}},
       "rule-without-rationale"},
      {"UnknownSetting",
       kPack,
       {{kAbove, R"(setting: "above-range")", R"(setting: "above-rnage")"}},
       "unknown-name"},
      {"WrongUnit",
       kPack,
       {{kAbove, R"(setting: "above-range")", R"(setting: "no-contact")"}},
       "wrong-unit"},
      {"SettingBeyondItsRange",
       kPack,
       {{R"(name: "above-range")", "value: 20", "value: 28"}},
       "number-out-of-range"},
      {"SettingBeyondEveryForm",
       kPack,
       {{R"(name: "above-range")", "high: 27", "high: 40"}},
       "setting-range-too-wide"},
      {"OverrideOutOfRange",
       kSite,
       {{R"(name: "practice-confidence")", "value: 80", "value: 40"}},
       "number-out-of-range"},
      {"UnknownQuestion",
       kPack,
       {{kSelfHarm, item, R"(item { question: "44261-6" at_least)"}},
       "item-not-in-instrument"},
      {"WrongInstrument",
       kPack,
       {{kAbove, R"(score { instrument: "phq-9")",
         R"(score { instrument: "gad-2")"}},
       "setting-range-too-wide"},
      {"BandUpsideDown",
       kPack,
       {{kOffer, R"(at_least { setting: "programme-lower" })",
         R"(at_least { setting: "above-range" })"}},
       "range-upside-down"},
      {"SafetyMayWait",
       kPack,
       {{kSelfHarm, "PRIORITY_STAT", "PRIORITY_URGENT"}},
       "safety-alert-must-not-wait"},
      {"UnansweredMayWait",
       kPack,
       {{R"(id: "self-harm-unanswered")", "PRIORITY_ASAP", "PRIORITY_ROUTINE"}},
       "safety-alert-must-not-wait"},
      {"UnknownRuleInDivision",
       kPack,
       {{R"(id: "who-enters")", R"("score-above-range")", R"("score-above")"}},
       "unknown-name"},
      {"DividingRuleAskedLater",
       kPack,
       {{kAbove, R"(when { screening { instrument: "phq-9" } })",
         R"(when { screening { instrument: "phq-9" }
           after_working_days { value: 1 } })"}},
       "division-rule-not-asked"},
      {"ProtocolTheSiteLacks",
       kPack,
       {{kAbove, R"(protocol: "referral")", R"(protocol: "referrals")"}},
       "protocol-missing"},
      {"ProtocolWithoutReview",
       kSite,
       {{R"(id: "referral")", "  review_by:", "  #"}},
       "text-missing"},
      {"LaddersExchanged",
       kSite,
       {{R"(id: "cannot-wait")", "PRIORITY_STAT", "PRIORITY_ROUTINE"},
        {R"(id: "when-convenient")", "PRIORITY_ROUTINE", "PRIORITY_STAT"}},
       "priority-must-not-wait"},
      {"LastRungForNobodyNew",
       kSite,
       {{R"(id: "today")", R"(tell { everybody: "on-call-lead" }
      tell { everybody: "supervisor" })",
         "tell { own_clinician: true }"}},
       "ladder-not-always-staffed"},
      {"PriorityWithoutLadder",
       kSite,
       {{R"(id: "this-week")", "PRIORITY_URGENT", "PRIORITY_ASAP"}},
       "ladder-missing"},
  };
}

std::vector<Defect> FoundByTrying() {
  return {
      {"ExampleKindLost",
       kPack,
       {{kAbove, "shows: SILENT", "shows: BOUNDARY answer: DOES_NOT_RAISE"}},
       "example-missing"},
      {"ExampleWrong",
       kPack,
       {{kAbove, R"("3 3 3 3 3 3 3 3 0" total: 24)",
         R"("1 1 1 1 1 1 1 1 0" total: 8)"}},
       "example-wrong"},
      {"NotAtTheBoundary",
       kPack,
       {{kAbove, R"("3 3 3 3 2 2 2 2 0" total: 20)",
         R"("3 3 3 3 3 3 3 3 2" total: 26)"}},
       "example-not-at-a-boundary"},
      {"EnrolledNotShown",
       kPack,
       {{kBelow,
         R"(day: 28 form { instrument: "phq-9" points: "1 1 1 1 1 1 1 0 0" total: 7)",
         R"(day: 28 form { instrument: "phq-9" points: "2 2 2 2 2 2 1 1 0" total: 14)"}},
       "condition-not-shown"},
      {"RuleChangedAlone",
       kPack,
       {{kSelfHarm, "{ value: 1 }", "{ value: 2 }"}},
       "example-wrong"},
      {"NumberChangedAlone",
       kPack,
       {{kAbove, R"({ setting: "above-range" })", "{ value: 21 }"}},
       "example-wrong"},
  };
}

std::vector<Defect> FoundWithoutExamples() {
  return {
      {"GapBelowAboveRange",
       kPack,
       {{R"(name: "programme-upper")", "value: 19", "value: 18"}},
       "division-gap"},
      {"OverlapAtUpper",
       kPack,
       {{R"(name: "above-range")", "value: 20", "value: 19"}},
       "division-overlap"},
      {"AboveRangeOffByOne",
       kPack,
       {{R"(name: "above-range")", "value: 20", "value: 21"}},
       "division-gap"},
      {"LowerOffByOneInOneRule",
       kPack,
       {{kOffer, R"(at_least { setting: "programme-lower" })",
         "at_least { value: 11 }"}},
       "division-gap"},
      {"MildOffByOne",
       kPack,
       {{R"(name: "mild-lower")", "value: 5", "value: 6"}},
       "division-gap"},
      {"BandWithoutUpperEnd",
       kPack,
       {{kOffer, R"(at_most { setting: "programme-upper" })", ""}},
       "division-overlap"},
      {"ComparisonInverted",
       kPack,
       {{kAbove, "at_least", "at_most"}},
       "division-overlap"},
      {"NeverTrue",
       kPack,
       {{kAbove, kAboveScore,
         R"(all_of {
           condition { score { instrument: "phq-9" at_least { value: 20 } } }
           condition { score { instrument: "phq-9" at_most { value: 10 } } }
         })"}},
       "rule-never-speaks"},
      {"AlwaysTrue",
       kPack,
       {{kAbove, kAboveScore,
         R"(score { instrument: "phq-9" at_least { value: 0 } })"}},
       "rule-always-speaks"},
      {"PartAlwaysTrue",
       kPack,
       {{kBelow, R"(at_least { setting: "mild-lower" })",
         "at_least { value: 0 }"}},
       "condition-constant"},
      {"TwinRule",
       kPack,
       {{R"(id: "self-harm-unanswered")", "rule {\n",
         R"(rule {
  id: "twin" version: 1 title: "Twin" owner: "programme-lead"
  rationale: "invented" source: "invented"
  when { screening { instrument: "phq-9" instrument: "epds" } }
  condition { item_unanswered { self_harm: true } }
  kind: ALERT_KIND_SAFETY priority: PRIORITY_ASAP protocol: "self-harm"
}
rule {
)"}},
       "same-condition-as"},
  };
}

}  // namespace turnstone
