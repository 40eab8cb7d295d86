// The configuration simulated lives begin with, and how it changes.
#pragma once

#include "tests/faults/random.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::faults {

// The shipped rules with the two sites of the scenarios. Aborts if they do not
// load.
[[nodiscard]] const v1::Configuration& TwoSites();

// A site's file is changed as in its daily business: nothing of what decides.
void ChangeASite(Random& random, v1::Configuration& files);

// The same with rules that would find other things.
[[nodiscard]] v1::Configuration WithOtherRules(const v1::Configuration& files);

}  // namespace turnstone::faults
