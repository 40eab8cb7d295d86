// From what an event says to what rules look at.
#pragma once

#include <absl/status/statusor.h>

#include "rules/engine/history.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// INVALID_ARGUMENT, with what to send instead, if a form cannot be scored or
// the event carries no fact of its own. Pure.
[[nodiscard]] absl::StatusOr<FactContent> MakeContent(
    const v1::Event& event, const Catalogue& catalogue);

}  // namespace turnstone
