// Sets of record numbers as text: "3,7-9".
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>

namespace turnstone {

[[nodiscard]] std::string NumbersToText(const std::set<int64_t>& numbers);

// Absent unless `text` is what NumbersToText makes, of numbers from 1 up to
// `last`.
[[nodiscard]] std::optional<std::set<int64_t>> NumbersFromText(
    const std::string& text, int64_t last);

}  // namespace turnstone
