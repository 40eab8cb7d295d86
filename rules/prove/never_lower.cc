#include <absl/strings/str_cat.h>

#include <algorithm>
#include <optional>
#include <tuple>

#include "rules/prove/big_count.h"
#include "rules/prove/form_case.h"
#include "rules/prove/over_forms.h"

namespace turnstone {
namespace {

v1::Priority Highest(const std::vector<Said>& said) {
  v1::Priority highest = v1::PRIORITY_UNSPECIFIED;
  for (const Said& each : said) highest = std::max(highest, each.priority);
  return highest;
}

// A pair of forms the second of which is less pressing.
struct Lowered {
  const FormPair* pair;
  Beside beside;
  v1::Priority before;
  v1::Priority after;
  [[nodiscard]] bool IsSmallerThan(const Lowered& other) const {
    return std::tie(pair->smallest, beside) <
           std::tie(other.pair->smallest, other.beside);
  }
};

Counterexample LoweredCase(const Lowered& lowered, const v1::Property& property,
                           const FormAnswers& answers,
                           const CaseEvents& events) {
  Counterexample example;
  const FormGroups& groups = answers.groups();
  AddCase(groups.FormOf(lowered.pair->smallest), lowered.beside, answers,
          events, 1, "one: ", example);
  AddCase(groups.WorseForm(*lowered.pair), lowered.beside, answers, events, 2,
          "another: ", example);
  example.expected = absl::StrCat(
      "for the other, in whom one item is worse, alerts of kind ",
      KindsInWords(property.never_lower().kind()), " at no lower priority");
  example.found = absl::StrCat(
      "the highest is ", PriorityInWords(lowered.before), " for the one and ",
      PriorityInWords(lowered.after), " for the other");
  return example;
}

}  // namespace

void ProveNeverLower(const v1::Property& property, const Site& site,
                     const FormAnswers& answers, Proof& proof) {
  BeginProof(answers, proof);
  const auto& kinds = property.never_lower().kind();
  // The smallest pair that fails.
  std::optional<Lowered> smallest;
  for (const auto& [sketches, pair] : answers.groups().pairs()) {
    for (const Beside& beside : EveryBeside()) {
      const SameForms& forms = answers.Find(sketches.first, beside);
      if (!IsCaseOf(property, site, forms)) continue;
      proof.cases = Plus(proof.cases, pair.pairs);
      const SameForms& worse = answers.Find(sketches.second, beside);
      const Lowered now{&pair, beside, Highest(OfKinds(forms, site, kinds)),
                        Highest(OfKinds(worse, site, kinds))};
      if (now.after >= now.before) continue;
      if (!smallest || now.IsSmallerThan(*smallest)) smallest = now;
    }
  }
  if (!smallest) return;
  FailWith(
      LoweredCase(*smallest, property, answers, CaseEvents(site, proof.id)),
      proof);
}

}  // namespace turnstone
