// Holds a table of worked cases against the library.
//
// Usage: reference_check trend|zones FILE
//
// Prints a line for each value that differs, then how many were compared. Exit
// code: 0 all agree, 1 some differ, 2 the command or the file is not as it
// should be.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <iostream>

#include "platform/files.h"
#include "tests/reference/comparison.h"

namespace turnstone::reference {
namespace {

constexpr int kAgree = 0;
constexpr int kDiffer = 1;
constexpr int kMalformed = 2;

absl::StatusOr<Comparison> Compare(const std::string& kind,
                                   const std::string& path) {
  if (kind != "trend" && kind != "zones") {
    return absl::InvalidArgumentError(
        "there are two kinds of table; write trend or zones before FILE");
  }
  const absl::StatusOr<std::string> text = ReadFile(path);
  if (!text.ok()) return text.status();
  const absl::StatusOr<CsvTable> table = ParseCsv(*text);
  if (!table.ok()) return table.status();
  return kind == "trend" ? CompareTrends(*table) : CompareZones(*table);
}

void Print(const Comparison& comparison) {
  for (const Mismatch& mismatch : comparison.mismatches) {
    std::cout << "line " << mismatch.line << ", column " << mismatch.column
              << ": got " << mismatch.got << ", expected " << mismatch.expected
              << "\n";
  }
  std::cout << comparison.rows << " rows, " << comparison.values
            << " values compared, " << comparison.mismatches.size()
            << " differ";
  if (!comparison.not_computed.empty()) {
    std::cout << "; not computed: "
              << absl::StrJoin(comparison.not_computed, ", ");
  }
  std::cout << "\n";
}

int Main(int argc, char** argv) {
  if (argc != 3) {
    std::cerr << "usage: reference_check trend|zones FILE\n";
    return kMalformed;
  }
  const std::string path = argv[2];
  const absl::StatusOr<Comparison> comparison = Compare(argv[1], path);
  if (!comparison.ok()) {
    std::cerr << path << ": " << std::string(comparison.status().message())
              << "\n";
    return kMalformed;
  }
  Print(*comparison);
  return comparison->mismatches.empty() ? kAgree : kDiffer;
}

}  // namespace
}  // namespace turnstone::reference

int main(int argc, char** argv) {
  return turnstone::reference::Main(argc, argv);
}
