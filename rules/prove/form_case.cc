#include "rules/prove/form_case.h"

#include <utility>

namespace turnstone {

bool IsCaseOf(const v1::Property& property, const Site& site,
              const SameForms& forms) {
  return !property.has_given() ||
         IsGiven(property.given(), site, forms.history);
}

std::vector<Said> OfKinds(const SameForms& forms, const Site& site,
                          const google::protobuf::RepeatedField<int>& kinds) {
  std::vector<Said> said;
  for (const Said& each : forms.said) {
    if (!each.raises) continue;
    if (HasKind(kinds, site.rules.rule(each.rule).kind())) said.push_back(each);
  }
  return said;
}

// Fills in one participant's part of a case.
void AddCase(const v1::ScreeningResult& form, const Beside& beside,
             const FormAnswers& answers, const CaseEvents& events, int person,
             const std::string& before, Counterexample& example) {
  for (v1::Event& event : FormAnswers::EventsOf(form, beside, events, person)) {
    example.events.push_back(std::move(event));
  }
  for (const std::string& words : answers.WordsOf(form, beside)) {
    example.words.push_back(before + words);
  }
}

Counterexample CaseOf(const SameForms& forms, const Site& site,
                      const FormAnswers& answers, const Proof& proof) {
  Counterexample example;
  AddCase(forms.form, forms.beside, answers, CaseEvents(site, proof.id), 1, "",
          example);
  example.found = RaisedInWords(forms.said, site);
  return example;
}

void BeginProof(const FormAnswers& answers, Proof& proof) {
  proof.evaluations = answers.all().size();
  proof.states = answers.all().size();
  proof.result = ProofResult::kHolds;
}

void FailWith(Counterexample example, Proof& proof) {
  if (proof.counterexample) return;
  proof.result = ProofResult::kFails;
  proof.counterexample = std::move(example);
}

}  // namespace turnstone
