// Where a page of alerts ended, as text a client hands back.
#pragma once

#include <absl/status/statusor.h>

#include <cstdint>
#include <limits>
#include <string>

namespace turnstone {

// Place of an alert in the order of ListAlerts. By default: before them all.
struct AlertPlace {
  int64_t priority = std::numeric_limits<int64_t>::max();
  int64_t raised_at = std::numeric_limits<int64_t>::min();  // as in the column
  int64_t number = 0;
};

[[nodiscard]] std::string ToPageToken(const AlertPlace& place);

// The place `token` stands for; empty: before them all. INVALID_ARGUMENT if
// ToPageToken never gave it out.
[[nodiscard]] absl::StatusOr<AlertPlace> FromPageToken(
    const std::string& token);

}  // namespace turnstone
