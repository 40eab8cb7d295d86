// What falls due, day by day.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

// Each thing on the day and at the time of its own site's clocks; `until` is
// how far was looked ahead.
[[nodiscard]] std::string DuePage(const v1::DueList& due, absl::Time until);

}  // namespace turnstone::cli
