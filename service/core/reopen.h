// Taking up again what has ended: by a new alert, linked to the old one.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "service/core/work.h"

namespace turnstone {

// Whether the caller may reopen `alert`; errors as Work.
[[nodiscard]] absl::Status CheckReopen(const v1::Reopen& request,
                                       const Desk& desk,
                                       const v1::Alert& alert);

// The alert that takes up `ended`, which is marked with it. Its climb begins
// now. REQUIRES: CheckReopen returned OK.
[[nodiscard]] v1::Alert Reopen(const v1::Reopen& request, const Desk& desk,
                               const std::string& new_id, v1::Alert& ended);

}  // namespace turnstone
