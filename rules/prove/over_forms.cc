#include "rules/prove/over_forms.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <utility>

#include "rules/prove/big_count.h"
#include "rules/prove/form_case.h"

namespace turnstone {
namespace {

// The same rules at the same priorities; whether they could tell is their own
// business.
bool SameAlerts(const std::vector<Said>& a, const std::vector<Said>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(),
                    [](const Said& x, const Said& y) {
                      return x.rule == y.rule && x.priority == y.priority;
                    });
}

// The self-harm item as the sketch has it.
int SelfHarmSeen(const SameForms& forms, const FormGroups& groups) {
  const auto& looked_at = groups.looked_at();
  const auto place = looked_at.find(*groups.scale().SelfHarmItem());
  return forms.sketch
      .seen[static_cast<size_t>(std::distance(looked_at.begin(), place))];
}

}  // namespace

void ProveRaisesOnForms(const v1::Property& property, const Site& site,
                        const FormAnswers& answers, Proof& proof) {
  BeginProof(answers, proof);
  const v1::RaisesAlert& wanted = property.raise();
  for (const SameForms& forms : answers.all()) {
    if (!IsCaseOf(property, site, forms)) continue;
    proof.cases = Plus(proof.cases, forms.forms);
    const bool raised =
        std::any_of(forms.said.begin(), forms.said.end(),
                    [&](const Said& s) { return Satisfies(s, wanted, site); });
    if (raised || proof.counterexample) continue;
    Counterexample example = CaseOf(forms, site, answers, proof);
    example.expected = WantedInWords(wanted);
    FailWith(std::move(example), proof);
  }
}

void ProveSameWhateverElse(const v1::Property& property, const Site& site,
                           const FormAnswers& answers, Proof& proof) {
  BeginProof(answers, proof);
  const auto& kinds = property.same_whatever_else().kind();
  // The smallest form by its self-harm item.
  std::map<int, const SameForms*> first;
  for (const SameForms& forms : answers.all()) {
    if (!IsCaseOf(property, site, forms)) continue;
    proof.cases = Plus(proof.cases, forms.forms);
    const int seen = SelfHarmSeen(forms, answers.groups());
    const SameForms& same = *first.emplace(seen, &forms).first->second;
    const std::vector<Said> before = OfKinds(same, site, kinds);
    const std::vector<Said> after = OfKinds(forms, site, kinds);
    if (SameAlerts(before, after) || proof.counterexample) continue;
    Counterexample example;
    const CaseEvents events(site, proof.id);
    AddCase(same.form, same.beside, answers, events, 1, "one: ", example);
    AddCase(forms.form, forms.beside, answers, events, 2, "another: ", example);
    example.expected =
        absl::StrCat("the same alerts of kind ", KindsInWords(kinds),
                     " for both, whose self-harm item is the same");
    example.found =
        absl::StrCat("for the one ", RaisedInWords(before, site),
                     ", for the other ", RaisedInWords(after, site));
    FailWith(std::move(example), proof);
  }
}

void ProveDivision(const v1::Division& division, const Site& site,
                   const FormAnswers& answers, Proof& proof) {
  BeginProof(answers, proof);
  for (const SameForms& forms : answers.all()) {
    if (forms.total_alone || forms.sketch.missing > 0) continue;
    if (division.has_among() &&
        !IsGiven(division.among(), site, forms.history)) {
      continue;
    }
    proof.cases = Plus(proof.cases, forms.forms);
    std::vector<std::string> speaking;
    for (const Said& said : forms.said) {
      const std::string& id = site.rules.rule(said.rule).id();
      // A rule that waits speaks in the end.
      if (said.truth == v1::TRUTH_FALSE) continue;
      if (std::find(division.rule().begin(), division.rule().end(), id) !=
          division.rule().end()) {
        speaking.push_back(id);
      }
    }
    const bool none_needed =
        division.has_none_at_most() &&
        forms.sketch.high <= division.none_at_most().value();
    if (speaking.size() == 1 || (speaking.empty() && none_needed)) continue;
    if (proof.counterexample) continue;
    Counterexample example = CaseOf(forms, site, answers, proof);
    example.expected = "exactly one of the rules of the division";
    example.found = speaking.empty() ? std::string("none of them speaks")
                                     : absl::StrCat(speaking[0], " and ",
                                                    speaking[1], " both speak");
    FailWith(std::move(example), proof);
  }
}

}  // namespace turnstone
