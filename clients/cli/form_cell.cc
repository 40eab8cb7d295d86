#include "clients/cli/form_cell.h"

#include <absl/strings/ascii.h>
#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

namespace turnstone::cli {

absl::Status WrongCell(const std::string& column, const std::string& wrong,
                       const std::string& write) {
  return absl::InvalidArgumentError(
      absl::StrCat(column, " ", wrong, "; write ", write));
}

std::optional<int> WholeNumber(const std::string& cell) {
  int number = 0;
  if (!std::all_of(cell.begin(), cell.end(), absl::ascii_isdigit) ||
      !absl::SimpleAtoi(cell, &number)) {
    return std::nullopt;
  }
  return number;
}

}  // namespace turnstone::cli
