// Lengths of time as people type them.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>

namespace turnstone::cli {

// "26h", "3d", "90m", "1d6h": whole days (of 24 hours), hours and minutes, in
// this order, more than nothing in all. INVALID_ARGUMENT saying what to write.
[[nodiscard]] absl::StatusOr<absl::Duration> ParseDuration(
    const std::string& text);

}  // namespace turnstone::cli
