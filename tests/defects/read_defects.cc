// What `rules check` must find reading the files. Defects of our own invention;
// what each breaks is said in the comments of rule.proto and site.proto.
#include "tests/defects/planted.h"

namespace turnstone {
namespace {

constexpr char kSafetyRule[] = R"(id: "self-harm-positive")";
constexpr char kReferralRule[] = R"(id: "score-above-range")";
constexpr char kEntryRule[] = R"(id: "score-in-range-and-willing")";

std::vector<Defect> OfNames() {
  const std::string item = "item { self_harm: true at_least";
  return {
      {"NoSource",
       kPack,
       {{kSafetyRule, "  source:", "  #"}},
       "rule-without-source"},
      {"NotLatched",
       kPack,
       {{kSafetyRule, "  latched: true\n", ""}},
       "safety-alert-not-latched"},
      {"UnansweredWaits",
       kPack,
       {{R"(id: "self-harm-unanswered")",
         "condition { item_unanswered { self_harm: true } }",
         R"(condition { item { self_harm: true at_least { value: 1 } } }
  on_unknown { wait_then_raise { working_days { value: 2 } } })"}},
       "safety-alert-must-not-wait"},
      {"WaitsUntilMoreIsKnown",
       kPack,
       {{R"(id: "missed-after-self-harm")", "  kind:",
         "  on_unknown { wait_then_raise { working_days { value: 5 } } }\n"
         "  kind:"}},
       "safety-alert-must-not-wait"},
      {"NoOwner",
       kPack,
       {{kSafetyRule, "  owner:", "  #"}},
       "rule-without-owner"},
      {"NoRationale",
       kPack,
       {{kSafetyRule, "  rationale:", "  #"}},
       "rule-without-rationale"},
      {"UnknownSetting",
       kPack,
       {{kReferralRule, R"(setting: "above-range")",
         R"(setting: "above-rnage")"}},
       "unknown-name"},
      {"WrongUnit",
       kPack,
       {{kReferralRule, R"(setting: "above-range")",
         R"(setting: "no-contact")"}},
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
       {{kSafetyRule, item, R"(item { question: "44261-6" at_least)"}},
       "item-not-in-instrument"},
      {"WrongInstrument",
       kPack,
       {{kReferralRule, R"(score { instrument: "phq-9")",
         R"(score { instrument: "gad-2")"}},
       "setting-range-too-wide"},
      {"BandUpsideDown",
       kPack,
       {{kEntryRule, R"(at_least { setting: "programme-lower" })",
         R"(at_least { setting: "above-range" })"}},
       "range-upside-down"},
  };
}

std::vector<Defect> OfAlerts() {
  return {
      {"SafetyMayWait",
       kPack,
       {{kSafetyRule, "PRIORITY_STAT", "PRIORITY_URGENT"}},
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
       {{kReferralRule, R"(when { screening { instrument: "phq-9" } })",
         R"(when { screening { instrument: "phq-9" }
           after_working_days { value: 1 } })"}},
       "division-rule-not-asked"},
  };
}

std::vector<Defect> OfSites() {
  return {
      {"ProtocolTheSiteLacks",
       kPack,
       {{kReferralRule, R"(protocol: "referral")", R"(protocol: "referrals")"}},
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

}  // namespace

std::vector<Defect> FoundByReading() {
  return Joined({OfNames(), OfAlerts(), OfSites()});
}

}  // namespace turnstone
