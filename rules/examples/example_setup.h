// Where examples happen: an invented site that overrides nothing.
#pragma once

#include "rules/engine/setup.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// The one site of the result, with `rules` in force on the numbers of its own.
// Monday to Friday 09:00 to 17:00 UTC, no holidays, eight visits planned.
// REQUIRES: `rules` passed LoadConfiguration, every setting has its value, and
// `instruments` holds every instrument it names. Pure.
[[nodiscard]] Setup SetUpExamples(
    const v1::RuleSet& rules,
    const std::vector<const v1::Instrument*>& instruments);

// That site. REQUIRES: `setup` came from SetUpExamples, and outlives it.
[[nodiscard]] const Site& ExampleSite(const Setup& setup);

}  // namespace turnstone
