// What the cells of a table of forms have in common.
#pragma once

#include <absl/status/status.h>

#include <optional>
#include <string>

namespace turnstone::cli {

// INVALID_ARGUMENT: what is wrong with a column, and what to write instead.
[[nodiscard]] absl::Status WrongCell(const std::string& column,
                                     const std::string& wrong,
                                     const std::string& write);

// Digits only; absent for anything else and beyond the range of int. Pure.
[[nodiscard]] std::optional<int> WholeNumber(const std::string& cell);

}  // namespace turnstone::cli
