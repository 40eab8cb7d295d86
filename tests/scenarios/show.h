// What is to be seen, in lines. Times are local.
#pragma once

#include <absl/status/statusor.h>

#include <string>
#include <vector>

#include "tests/scenarios/world.h"

namespace turnstone::scenarios {

using Lines = std::vector<std::string>;

// "Sun 28 Mar 02:15 IST".
[[nodiscard]] std::string Moment(absl::Time time, absl::TimeZone zone);

// `what` is "A-1", "board", "on-call", "sent", "owed", "hand-over", "due
// within 3 days" or "burden of 30 days"; " at SITE" behind it asks of another
// site than the first. INVALID_ARGUMENT if it is none of them; else errors of
// the core.
[[nodiscard]] absl::StatusOr<Lines> Show(const std::string& what, World& world);

}  // namespace turnstone::scenarios
