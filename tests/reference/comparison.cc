#include "tests/reference/comparison.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>

namespace turnstone::reference {

absl::Status ErrorIn(int line, const std::string& column,
                     const std::string& what) {
  return absl::InvalidArgumentError(
      absl::StrCat("line ", line, ", column ", column, ": ", what));
}

absl::StatusOr<size_t> Need(const CsvTable& table, const std::string& column) {
  const std::optional<size_t> index = table.Find(column);
  if (index) return *index;
  return ErrorIn(1, column, "there is none; add it");
}

std::vector<std::string> Others(const CsvTable& table,
                                const std::set<std::string>& known) {
  std::vector<std::string> others;
  std::copy_if(
      table.columns.begin(), table.columns.end(), std::back_inserter(others),
      [&](const std::string& column) { return known.count(column) == 0; });
  return others;
}

}  // namespace turnstone::reference
