// One division: whether its rules share the totals among them without gap or
// overlap.
#pragma once

#include "rules/check/place.h"
#include "rules/engine/setup.h"

namespace turnstone {

// Reports totals, with the rule set's own numbers, of which none of the rules
// speaks, or more than one. Tries every total with each answer to the self-harm
// item, each wish, enrolled and not. `division`: index of that at `place`.
// Pure. REQUIRES: `setup` came from SetUpExamples.
void ReviewDivision(const Setup& setup, int division, const Place& place);

}  // namespace turnstone
