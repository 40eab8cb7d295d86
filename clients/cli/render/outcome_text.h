// What a rule said, in words.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "turnstone/v1/explain.pb.h"

namespace turnstone::cli {

// "raised as stat", "did not raise", "cannot tell yet; asked again Wed 6 Jan
// 2027 17:00 GMT". REQUIRES: `outcome` was cleaned.
[[nodiscard]] std::string OutcomeText(const v1::RuleOutcome& outcome,
                                      absl::TimeZone zone);

// An entry of a list: the rule and its title, what it said, and why. REQUIRES:
// as above.
[[nodiscard]] std::string OutcomeEntry(const v1::RuleOutcome& outcome,
                                       absl::TimeZone zone);

}  // namespace turnstone::cli
