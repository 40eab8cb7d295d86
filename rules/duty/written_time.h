// Times and days as a site's file writes them.
#pragma once

#include <absl/time/civil_time.h>
#include <absl/time/time.h>

#include <optional>
#include <string>

namespace turnstone {

// Absent unless `text` is written in full and exists. Pure.

// "2027-03-17".
[[nodiscard]] std::optional<absl::CivilDay> ReadDay(const std::string& text);
// "HH:MM", "00:00" to "24:00": what the clock shows, as a span from midnight.
[[nodiscard]] std::optional<absl::Duration> ReadTimeOfDay(
    const std::string& text);
// "2027-02-06T09:00".
[[nodiscard]] std::optional<absl::CivilMinute> ReadLocalTime(
    const std::string& text);

}  // namespace turnstone
