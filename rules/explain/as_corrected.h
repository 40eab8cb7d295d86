// A participant's events as they stand after the corrections.
#pragma once

#include <vector>

#include "turnstone/v1/event.pb.h"

namespace turnstone {

// Those that were not withdrawn, each with its latest content under its own
// source and id; no corrections. In the order in which they happened, then of
// acceptance. `events`: accepted ones, in order of acceptance. Pure.
[[nodiscard]] std::vector<v1::Event> AsCorrected(
    const std::vector<v1::Event>& events);

}  // namespace turnstone
