// What `rules prove` must find, whatever the examples say,
// Defects of our own invention.
#include "tests/defects/planted.h"

namespace turnstone {
namespace {

constexpr char kPositive[] = R"(id: "self-harm-positive")";
constexpr char kUnanswered[] = R"(id: "self-harm-unanswered")";
constexpr char kOfferRule[] = R"(id: "score-in-range-and-willing")";
constexpr char kRefer[] = R"(id: "score-above-range")";
constexpr char kMissed[] = R"(id: "missed-visits")";
constexpr char kWorse[] = R"(id: "reliable-deterioration")";
constexpr char kPositiveItem[] =
    "{ item { self_harm: true at_least { value: 1 } } }";
constexpr char kMissedInARow[] =
    R"(missed_in_a_row { at_least { setting: "missed-in-a-row" } })";
constexpr char kBothForms[] =
    R"(when { screening { instrument: "phq-9" instrument: "epds" } })";
constexpr char kBaseline[] = "COMPARED_WITH_BASELINE";

std::vector<Defect> OfLostSelfHarm() {
  return {
      {"PositiveRuleLost",
       kPack,
       {{kPositive, "", ""}},
       "phq-9-self-harm-speaks"},
      {"UnansweredRuleLost",
       kPack,
       {{kUnanswered, "", ""}},
       "phq-9-self-harm-speaks"},
      {"UnansweredRuleLostForEpds",
       kPack,
       {{kUnanswered, "", ""}},
       "epds-self-harm-speaks"},
      {"NotAskedOfThePhq9",
       kPack,
       {{kPositive, kBothForms,
         R"(when { screening { instrument: "epds" } })"}},
       "phq-9-self-harm-speaks"},
      {"NotAskedOfTheEpds",
       kPack,
       {{kPositive, kBothForms,
         R"(when { screening { instrument: "phq-9" } })"}},
       "epds-self-harm-speaks"},
      {"OnlyAtTwoPoints",
       kPack,
       {{kPositive, "{ value: 1 }", "{ value: 2 }"}},
       "phq-9-self-harm-speaks"},
      {"AnotherQuestion",
       kPack,
       {{kPositive, kBothForms,
         R"(when { screening { instrument: "phq-9" } })"},
        {kPositive, "item { self_harm: true", R"(item { question: "44250-9")"}},
       "phq-9-self-harm-speaks"},
  };
}

std::vector<Defect> OfNarrowedSelfHarm() {
  const std::string positive = kPositiveItem;
  const std::string with = positive + "\n      condition ";
  return {
      {"OnlyTheEnrolled",
       kPack,
       {{kPositive, positive, with + "{ enrolled {} }"}},
       "phq-9-self-harm-speaks"},
      {"OnlyTheWilling",
       kPack,
       {{kPositive, positive, with + "{ wish_recorded {} }"}},
       "phq-9-self-harm-speaks"},
      {"OnlyAboveATotal",
       kPack,
       {{kPositive, kBothForms,
         R"(when { screening { instrument: "phq-9" } })"},
        {kPositive, positive,
         with + R"({ score { instrument: "phq-9" at_least { value: 10 } } })"}},
       "phq-9-care-not-withheld"},
      {"AskedADayLater",
       kPack,
       {{kPositive, R"(instrument: "epds" })",
         R"(instrument: "epds" } after_working_days { value: 1 })"}},
       "phq-9-self-harm-speaks"},
      {"NotASafetyAlert",
       kPack,
       {{kPositive, "ALERT_KIND_SAFETY", "ALERT_KIND_REFERRAL"}},
       "phq-9-self-harm-speaks"},
      {"ItemInverted",
       kPack,
       {{kPositive, "condition " + positive,
         "condition { not " + positive + " }"}},
       "phq-9-self-harm-speaks"},
      {"PositiveAsap",
       kPack,
       {{kPositive, "PRIORITY_STAT", "PRIORITY_ASAP"}},
       "phq-9-positive-is-stat"},
  };
}

std::vector<Defect> OfBands() {
  return {
      {"ProvedGap",
       kPack,
       {{R"(name: "programme-upper")", "value: 19", "value: 18"}},
       "who-enters"},
      {"ProvedOverlap",
       kPack,
       {{R"(name: "above-range")", "value: 20", "value: 19"}},
       "who-enters"},
      {"ProvedInverted",
       kPack,
       {{kRefer, "at_least", "at_most"}},
       "worse-is-never-less-pressing"},
      {"ProvedRuleLostFromBands",
       kPack,
       {{R"(id: "who-enters")", R"(rule: "score-below-range")", ""}},
       "who-enters"},
      {"ProvedOtherInstrument",
       kPack,
       {{kOfferRule, R"(instrument: "phq-9"
          at_least)",
         R"(instrument: "epds"
          at_least)"}},
       "who-enters"},
      {"SevereLessPressing",
       kPack,
       {{kRefer, "priority: PRIORITY_ASAP", "priority: PRIORITY_ROUTINE"},
        {kOfferRule, "PRIORITY_ROUTINE", "PRIORITY_URGENT"}},
       "worse-is-never-less-pressing"},
  };
}

std::vector<Defect> OfCourses() {
  return {
      {"MissedThree",
       kPack,
       {{R"(name: "missed-in-a-row")", "value: 2", "value: 3"}},
       "missed-contact-speaks"},
      {"AttendedForMissed",
       kPack,
       {{kMissed, kMissedInARow, "attended_visits { at_least { value: 2 } }"}},
       "missed-contact-speaks"},
      {"OutreachOfAnotherKind",
       kPack,
       {{kMissed, "ALERT_KIND_OUTREACH", "ALERT_KIND_STEPPED_CARE"}},
       "missed-contact-speaks"},
      {"OutreachWaitsThree",
       kPack,
       {{kMissed, "visit_outcome {}",
         "visit_outcome {} after_working_days { value: 3 }"}},
       "missed-contact-speaks"},
      {"OutreachRoutine",
       kPack,
       {{kMissed, "PRIORITY_URGENT", "PRIORITY_ROUTINE"}},
       "missed-contact-speaks"},
      {"KindNobodyRaises",
       kSafety,
       {{R"(id: "missed-contact-speaks")", "ALERT_KIND_OUTREACH",
         "ALERT_KIND_COACHING"}},
       "missed-contact-speaks"},
      {"AgainstThePrevious",
       kPack,
       {{kWorse, kBaseline, "COMPARED_WITH_PREVIOUS"}},
       "deterioration-speaks"},
      {"BetterForWorse",
       kPack,
       {{kWorse, "worse_by", "better_by"}},
       "deterioration-speaks"},
      {"APointTooMuch",
       kPack,
       {{kWorse, R"(at_least { setting: "reliable-change" })",
         "at_least { value: 9 }"}},
       "deterioration-speaks"},
      {"TwiceRunning",
       kPack,
       {{kWorse, R"(at_least { setting: "reliable-change" })",
         R"(at_least { setting: "reliable-change" } in_a_row { value: 2 })"}},
       "deterioration-speaks"},
      {"FromTheThirdForm",
       kPack,
       {{kWorse, "condition {\n", R"(condition { all_of {
    condition { screenings { instrument: "phq-9" at_least { value: 3 } } }
    condition {
)"},
        {kWorse, "  }\n  kind:", "  } } }\n  kind:"}},
       "deterioration-speaks"},
      {"OnlyWhileEnrolled",
       kPack,
       {{kWorse, "condition {\n", R"(condition { all_of {
    condition { enrolled {} }
    condition {
)"},
        {kWorse, "  }\n  kind:", "  } } }\n  kind:"}},
       "deterioration-speaks"},
  };
}

}  // namespace

std::vector<Defect> FoundByProof() {
  return Joined(
      {OfLostSelfHarm(), OfNarrowedSelfHarm(), OfBands(), OfCourses()});
}

}  // namespace turnstone
