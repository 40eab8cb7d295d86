// What kept a rule silent about a participant.
#pragma once

#include <string>

#include "turnstone/v1/explain.pb.h"

namespace turnstone::cli {

// What it says on top, then the event, each condition with those that kept it
// silent marked, and by what it would have raised. Times in the site's zone.
[[nodiscard]] std::string WhyNotPage(const v1::RuleExplanation& explanation);

}  // namespace turnstone::cli
