// What every change of an alert has in common: it is written into the alert's
// own history.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// requested, received, in-progress or on-hold.
[[nodiscard]] bool IsOpen(const v1::Alert& alert);

// The service itself, as an actor.
[[nodiscard]] v1::Actor ServiceActor();

// Writes down what `by` did, with the status and priority the alert has now.
v1::AlertChange& Record(const v1::Actor& by, const std::string& text,
                        absl::Time now, v1::Alert& alert);

// The alert has ended with that status: nobody has it any more, and no deadline
// is left.
void End(v1::AlertStatus status, v1::Alert& alert);

}  // namespace turnstone
