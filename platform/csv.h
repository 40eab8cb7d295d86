// Tables as text: comma-separated values, RFC 4180.
#pragma once

#include <absl/status/statusor.h>

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace turnstone {

struct CsvRow {
  int line = 0;  // where it begins, from 1
  std::vector<std::string> cells;
};

struct CsvTable {
  std::vector<std::string> columns;
  // Each has a cell for each column.
  std::vector<CsvRow> rows;
  // Index of the column of that name; absent if there is none.
  [[nodiscard]] std::optional<size_t> Find(const std::string& column) const;
};

// Reads `text`, whose first line names the columns. Cells are kept as they are,
// spaces included; empty lines are passed over. Beyond the RFC, lines may end
// with LF or CR alone, and a byte order mark may come first.
// INVALID_ARGUMENT naming the line and what to write, but never what a cell
// holds: a row with more or fewer cells than columns; a quote that is not
// closed, that stands inside a cell without quotes, or that text follows; a
// column without a name, or with the name of another; a NUL byte; no line at
// all. Pure.
[[nodiscard]] absl::StatusOr<CsvTable> ParseCsv(const std::string& text);

}  // namespace turnstone
