// What the proofs over forms have in common.
#pragma once

#include <string>
#include <vector>

#include "rules/prove/form_answers.h"
#include "rules/prove/proof.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Whether `forms` are among the cases of `property`.
[[nodiscard]] bool IsCaseOf(const v1::Property& property, const Site& site,
                            const SameForms& forms);

// What is raised of these kinds.
[[nodiscard]] std::vector<Said> OfKinds(
    const SameForms& forms, const Site& site,
    const google::protobuf::RepeatedField<int>& kinds);

// Adds one participant's part of a case. `before`: what its words begin with.
void AddCase(const v1::ScreeningResult& form, const Beside& beside,
             const FormAnswers& answers, const CaseEvents& events, int person,
             const std::string& before, Counterexample& example);

// The smallest of `forms` as a case, and what is raised.
[[nodiscard]] Counterexample CaseOf(const SameForms& forms, const Site& site,
                                    const FormAnswers& answers,
                                    const Proof& proof);

// Holds, until it fails.
void BeginProof(const FormAnswers& answers, Proof& proof);
// The first time counts.
void FailWith(Counterexample example, Proof& proof);

}  // namespace turnstone
