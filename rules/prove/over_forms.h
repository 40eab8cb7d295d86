// Properties over every form.
#pragma once

#include "rules/prove/form_answers.h"
#include "rules/prove/proof.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Fills in what became of `property`; its numbers are resolved. `answers` were
// made with the items it looks at. Pure.

// An alert is raised.
void ProveRaisesOnForms(const v1::Property& property, const Site& site,
                        const FormAnswers& answers, Proof& proof);
// No item made worse lowers the highest priority.
void ProveNeverLower(const v1::Property& property, const Site& site,
                     const FormAnswers& answers, Proof& proof);
// The same alerts for every form with the same self-harm item. REQUIRES: the
// instrument has one, and it is looked at.
void ProveSameWhateverElse(const v1::Property& property, const Site& site,
                           const FormAnswers& answers, Proof& proof);
// Exactly one rule of `division`, a division of the site's rule set, speaks.
void ProveDivision(const v1::Division& division, const Site& site,
                   const FormAnswers& answers, Proof& proof);

}  // namespace turnstone
