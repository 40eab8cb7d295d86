// Alert ids: "A-17" is the alert with number 17.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace turnstone {

// REQUIRES: number > 0.
[[nodiscard]] std::string AlertId(int64_t number);

// Absent unless AlertId(number) gives exactly `id`.
[[nodiscard]] std::optional<int64_t> AlertNumber(const std::string& id);

}  // namespace turnstone
