// How long things took, in three numbers.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "turnstone/v1/burden.pb.h"

namespace turnstone {

// Median: the middle one, or the mean of the two in the middle. 90th
// percentile: by nearest rank, so a time that did occur (Hyndman & Fan 1996,
// Am Stat 50:361, definition 1). In whole seconds. Pure.
[[nodiscard]] v1::Times SpreadOf(std::vector<absl::Duration> times);

}  // namespace turnstone
