// Tables of worked cases, row by row against the library.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <cstddef>
#include <set>
#include <string>
#include <vector>

#include "platform/csv.h"

namespace turnstone::reference {

struct Mismatch {
  int line = 0;
  std::string column;
  std::string got;
  std::string expected;
};

struct Comparison {
  int rows = 0;
  int values = 0;
  std::vector<Mismatch> mismatches;
  // Columns that hold results the library has no figure for.
  std::vector<std::string> not_computed;
};

// `table` has the columns of tests/measure/data/trend_cases.csv: t (days) and y
// (values), each joined with semicolons, and one at least of the results.
// Numbers agree to 1e-9, absolute or relative; an empty cell stands for what is
// not defined. INVALID_ARGUMENT naming line, column and what to write. Pure.
[[nodiscard]] absl::StatusOr<Comparison> CompareTrends(const CsvTable& table);

// `table` has the columns of tests/measure/data/time_zone_cases.csv: zone,
// local and utc_fold0_offset_before. Errors as above. Reads the machine's time
// zone database.
[[nodiscard]] absl::StatusOr<Comparison> CompareZones(const CsvTable& table);

// What the two share:

// "line 3, column y: what is wrong and what to write".
[[nodiscard]] absl::Status ErrorIn(int line, const std::string& column,
                                   const std::string& what);
// Index of a column that has to be there.
[[nodiscard]] absl::StatusOr<size_t> Need(const CsvTable& table,
                                          const std::string& column);
// The columns that are not among `known`.
[[nodiscard]] std::vector<std::string> Others(
    const CsvTable& table, const std::set<std::string>& known);

}  // namespace turnstone::reference
