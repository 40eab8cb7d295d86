// What each kind of event must say. Corrections apart.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// "enrolment, screeningResult, ... or discharge": what an event can carry.
[[nodiscard]] std::string PayloadNames();

// OK, or INVALID_ARGUMENT as CheckEvent says. `prefix` stands before every
// field name: empty, or "correction.replacement.".
// REQUIRES: the effective time is valid; the payload is not a correction.
[[nodiscard]] absl::Status CheckPayload(const v1::Event& event,
                                        const std::string& prefix,
                                        const Catalogue& catalogue);

}  // namespace turnstone
