// Sets of record numbers as text: "3,7-9".
#pragma once

#include <cstdint>
#include <optional>
#include <set>
#include <string>

namespace turnstone {

[[nodiscard]] std::string NumbersToText(const std::set<int64_t>& numbers);

// Absent unless `text` is what NumbersToText makes, of `most` numbers at most,
// from 1 up to `last`. Few characters may stand for numbers without end, so the
// bound is kept before they are there.
[[nodiscard]] std::optional<std::set<int64_t>> NumbersFromText(
    const std::string& text, int64_t last, int64_t most);

}  // namespace turnstone
