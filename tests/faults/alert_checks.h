// What must hold of alerts at any moment at which nothing is under way.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::faults {

// `alerts`: all there are. Empty: nothing; else the guarantee that broke:
// BrokeSilent, BrokeExplained or BrokeOnce, and how.
[[nodiscard]] std::string WhatIsWrongWith(const std::vector<v1::Alert>& alerts,
                                          absl::Time now);

}  // namespace turnstone::faults
