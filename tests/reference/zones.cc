#include <absl/time/civil_time.h>
#include <absl/time/time.h>

#include "rules/measure/work_calendar.h"
#include "tests/reference/comparison.h"

namespace turnstone::reference {
namespace {

constexpr char kZone[] = "zone";
constexpr char kLocal[] = "local";
constexpr char kUtc[] = "utc_fold0_offset_before";

// Cells of one row, or indices of them.
template <typename T>
struct Triple {
  T zone;
  T local;
  T utc;
};

absl::StatusOr<Triple<size_t>> FindColumns(const CsvTable& table) {
  const absl::StatusOr<size_t> zone = Need(table, kZone);
  if (!zone.ok()) return zone.status();
  const absl::StatusOr<size_t> local = Need(table, kLocal);
  if (!local.ok()) return local.status();
  const absl::StatusOr<size_t> utc = Need(table, kUtc);
  if (!utc.ok()) return utc.status();
  return Triple<size_t>{*zone, *local, *utc};
}

absl::Status CompareRow(int line, const Triple<std::string>& cells,
                        Comparison& comparison) {
  absl::TimeZone zone;
  if (!absl::LoadTimeZone(cells.zone, &zone)) {
    return ErrorIn(line, kZone,
                   "not in this machine's time zone database; write a name "
                   "such as Europe/London");
  }
  absl::CivilSecond local;
  if (!absl::ParseCivilTime(cells.local, &local)) {
    return ErrorIn(line, kLocal,
                   "not a local time; write one such as 2025-03-30T01:29:00");
  }
  absl::Time expected;
  std::string error;
  if (!absl::ParseTime(absl::RFC3339_full, cells.utc, &expected, &error)) {
    return ErrorIn(line, kUtc,
                   "not a time; write one such as 2025-03-30T01:29:00Z");
  }
  ++comparison.values;
  const absl::Time got = LocalToAbsolute(local, zone);
  if (got != expected) {
    const auto text = [](absl::Time time) {
      return absl::FormatTime("%Y-%m-%d%ET%H:%M:%SZ", time,
                              absl::UTCTimeZone());
    };
    comparison.mismatches.push_back({line, kUtc, text(got), text(expected)});
  }
  return absl::OkStatus();
}

}  // namespace

absl::StatusOr<Comparison> CompareZones(const CsvTable& table) {
  const absl::StatusOr<Triple<size_t>> at = FindColumns(table);
  if (!at.ok()) return at.status();
  Comparison comparison;
  comparison.not_computed =
      Others(table, {kZone, kLocal, "kind", "note", kUtc});
  for (const CsvRow& row : table.rows) {
    absl::Status compared = CompareRow(
        row.line,
        {row.cells[at->zone], row.cells[at->local], row.cells[at->utc]},
        comparison);
    if (!compared.ok()) return compared;
    ++comparison.rows;
  }
  return comparison;
}

}  // namespace turnstone::reference
