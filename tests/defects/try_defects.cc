// What `rules check` must find trying the rules out. Defects of our own
// invention; what each breaks is said in the comments of rule.proto and
// site.proto.
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
  kind: ALERT_KIND_SAFETY priority: PRIORITY_ASAP latched: true
  protocol: "self-harm"
}
rule {
)"}},
       "same-condition-as"},
  };
}

}  // namespace turnstone
