// Questions about what has become of an alert. Pure.
#pragma once

#include <absl/time/time.h>

#include <optional>

#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// The change by which somebody first had it, be it to end it at once. Null:
// nobody has.
[[nodiscard]] const v1::AlertChange* FirstInHand(const v1::Alert& alert);

// Nothing while it is open.
[[nodiscard]] std::optional<absl::Time> EndedAt(const v1::Alert& alert);

// Reasons added while it was open. What a reopened alert brings along was
// added to the one before it.
[[nodiscard]] int RepeatsOf(const v1::Alert& alert);

}  // namespace turnstone
