// Moving a simulated clock, and doing what falls due on the way.
#pragma once

#include <absl/status/statusor.h>

#include "platform/clock.h"
#include "service/core/core.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

[[nodiscard]] v1::Clock ClockOf(Core& core, bool simulated);

// Stops at every moment at which something falls due, so that what is raised
// bears the time at which it would have been raised. FAILED_PRECONDITION if
// `clock` is null (real time); INVALID_ARGUMENT if `by` is not more than 0 and
// at most 400 days. REQUIRES: nothing is staged.
[[nodiscard]] absl::StatusOr<v1::Clock> Advance(
    Core& core, SimulatedClock* clock, const google::protobuf::Duration& by,
    const v1::Actor& caller);

}  // namespace turnstone
