// A moment as people type it.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <optional>
#include <string>

namespace turnstone::cli {

// `text` is one of
//   "2027-02-06T09:00:00Z"  RFC 3339, also with another offset
//   "26h", "3d", "1d6h"     so long after `now` (ParseDuration)
//   "2027-02-06 09:00"      on the clocks of `zone`, where that is known
// INVALID_ARGUMENT beginning with `option` and saying what to write; so too for
// a local time that a clock change skips or repeats.
[[nodiscard]] absl::StatusOr<absl::Time> ParseWhen(
    const std::string& option, const std::string& text, absl::Time now,
    const std::optional<absl::TimeZone>& zone = std::nullopt);

}  // namespace turnstone::cli
