// Something to profile.
#pragma once

#include <string>

#include "tests/bench/callers.h"
#include "tests/bench/growth.h"

namespace turnstone {

// Posts the events by calls, then by streams, 256 at a time, then has a
// programme grow; prints what each took.
void Soak(const std::string& program, const std::string& folder,
          const Requests& requests, const GrowthPlan& growth);

}  // namespace turnstone
