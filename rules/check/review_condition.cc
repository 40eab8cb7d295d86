#include "rules/check/review_condition.h"

#include <absl/strings/str_cat.h>

#include "rules/check/placed.h"
#include "rules/engine/condition_words.h"
#include "rules/engine/rule_terms.h"
#include "rules/examples/example_setup.h"
#include "rules/examples/reach.h"

namespace turnstone {
namespace {

bool IsStuck(const CanBe& can_be) {
  return !can_be.is_true || !can_be.is_false;
}

void CheckSpeaks(const v1::Rule& rule, const CanBe& can_be,
                 const Place& place) {
  if (!can_be.is_true) {
    place.Report("rule-never-speaks",
                 absl::StrCat("rule \"", rule.id(),
                              "\" can never apply: its conditions cannot hold "
                              "together"),
                 "mend the condition, or remove the rule");
  } else if (!can_be.is_false) {
    place.Report("rule-always-speaks",
                 absl::StrCat("rule \"", rule.id(),
                              "\" applies to every event it is asked about, or "
                              "cannot tell"),
                 "mend the condition so that it can also be false");
  }
}

// Conditions within the rule's own that are always the same; of one within
// another, the inner one. Whether there is any.
bool CheckConstants(const std::vector<PlacedCondition>& placed,
                    const std::vector<CanBe>& can_be, const RuleTerms& terms) {
  bool any = false;
  for (size_t i = 1; i < placed.size(); ++i) {
    if (!IsStuck(can_be[i])) continue;
    bool inner = false;
    for (size_t j = i + 1; j <= i + placed[i].parts; ++j) {
      inner = inner || IsStuck(can_be[j]);
    }
    if (inner) continue;
    any = true;
    placed[i].place.Report(
        "condition-constant",
        absl::StrCat(can_be[i].is_true
                         ? "this always holds, or cannot be told: "
                         : "this can never hold: ",
                     ConditionInWords(*placed[i].condition, terms)),
        "mend it, or remove it");
  }
  return any;
}

// One single condition, one way.
void CheckShown(const v1::Rule& rule, size_t at, Truth way,
                const PlacedCondition& placed, const RuleTerms& terms) {
  v1::Condition named = *placed.condition;
  if (way == v1::TRUTH_FALSE) *named.mutable_not_() = *placed.condition;
  placed.place.Report(
      "condition-not-shown",
      absl::StrCat("no example shows that it matters that ",
                   ConditionInWords(named, terms)),
      absl::StrCat("add an example in which ",
                   NeededInWords(rule.condition(), at, way, terms)));
}

}  // namespace

void ReviewCondition(const Setup& setup, int rule,
                     const std::vector<Shown>& shown, const Place& place,
                     Coverage& coverage) {
  const Site& site = ExampleSite(setup);
  const v1::Rule& reviewed = site.rules.rule(rule);
  const RuleTerms terms(reviewed, setup.catalogue(), site.settings);
  const Reach reach = ReachOf(reviewed, setup.catalogue());
  const auto placed =
      PlacedConditions(reviewed.condition(), place.At("condition"));
  CheckSpeaks(reviewed, reach.part[0], place.At("condition"));
  const bool stuck =
      CheckConstants(placed, reach.part, terms) || IsStuck(reach.part[0]);
  size_t at = 0;
  for (const PlacedCondition& single : placed) {
    if (single.parts > 0) continue;
    const Shown& could = reach.could_show[at];
    if (!stuck && !could.when_true && !could.when_false) {
      single.place.Report(
          "condition-constant",
          absl::StrCat("whatever else is so, it makes no difference whether ",
                       ConditionInWords(*single.condition, terms)),
          "remove it, or mend what stands beside it");
    }
    for (const Truth way : {v1::TRUTH_TRUE, v1::TRUTH_FALSE}) {
      const bool holds = way == v1::TRUTH_TRUE;
      if (!(holds ? could.when_true : could.when_false)) continue;
      ++coverage.total;
      if (holds ? shown[at].when_true : shown[at].when_false) {
        ++coverage.shown;
      } else {
        CheckShown(reviewed, at, way, single, terms);
      }
    }
    ++at;
  }
}

}  // namespace turnstone
