#include <absl/strings/numbers.h>
#include <absl/strings/str_format.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "tests/reference/comparison.h"
#include "tests/reference/trend_results.h"

namespace turnstone::reference {
namespace {

constexpr double kTolerance = 1e-9;

using Figure = std::optional<double>;

bool ReadNumber(const std::string& text, double& number) {
  return absl::SimpleAtod(text, &number) && std::isfinite(number);
}

bool ReadFigure(const std::string& cell, Figure& figure) {
  figure.reset();
  return cell.empty() || ReadNumber(cell, figure.emplace());
}

// Where the series stands in each row.
struct SeriesColumns {
  size_t days = 0;
  size_t values = 0;
};

absl::StatusOr<SeriesColumns> FindSeries(const CsvTable& table) {
  const absl::StatusOr<size_t> days = Need(table, "t");
  if (!days.ok()) return days.status();
  const absl::StatusOr<size_t> values = Need(table, "y");
  if (!values.ok()) return values.status();
  return SeriesColumns{*days, *values};
}

absl::StatusOr<std::vector<TimedValue>> ReadSeries(
    const CsvRow& row, const SeriesColumns& columns) {
  constexpr char kHowTo[] =
      "not a list of numbers; write them with semicolons between, such as "
      "0;14;28.5";
  const std::vector<std::string> days =
      absl::StrSplit(row.cells[columns.days], ';');
  const std::vector<std::string> values =
      absl::StrSplit(row.cells[columns.values], ';');
  std::vector<TimedValue> series(days.size());
  if (values.size() != days.size()) {
    return ErrorIn(row.line, "y",
                   absl::StrFormat("%d values for %d days; write one for each",
                                   values.size(), days.size()));
  }
  for (size_t i = 0; i < series.size(); ++i) {
    if (!ReadNumber(days[i], series[i].day)) {
      return ErrorIn(row.line, "t", kHowTo);
    }
    if (!ReadNumber(values[i], series[i].value)) {
      return ErrorIn(row.line, "y", kHowTo);
    }
  }
  return series;
}

bool Agree(const Figure& got, const Figure& expected) {
  if (!got || !expected) return got.has_value() == expected.has_value();
  const double scale = std::max(1.0, std::abs(*expected));
  return std::abs(*got - *expected) <= kTolerance * scale;
}

std::string Text(const Figure& figure) {
  return figure ? absl::StrFormat("%.15g", *figure) : "none";
}

absl::Status CompareRow(const CsvTable& table, const CsvRow& row,
                        const Trend& trend, Comparison& comparison) {
  for (const TrendResult& result : TrendResults()) {
    const std::optional<size_t> cell = table.Find(result.column);
    if (!cell) continue;
    Figure expected;
    if (!ReadFigure(row.cells[*cell], expected)) {
      return ErrorIn(row.line, result.column,
                     "not a number; write one such as -0.25, or nothing "
                     "where it is not defined");
    }
    ++comparison.values;
    const Figure got = result.of(trend);
    if (!Agree(got, expected)) {
      comparison.mismatches.push_back(
          {row.line, result.column, Text(got), Text(expected)});
    }
  }
  return absl::OkStatus();
}

}  // namespace

absl::StatusOr<Comparison> CompareTrends(const CsvTable& table) {
  const absl::StatusOr<SeriesColumns> columns = FindSeries(table);
  if (!columns.ok()) return columns.status();
  std::set<std::string> known = {"case", "t", "y", "note"};
  const size_t given = Others(table, known).size();
  for (const TrendResult& result : TrendResults()) known.insert(result.column);
  Comparison comparison;
  comparison.not_computed = Others(table, known);
  if (comparison.not_computed.size() == given) {
    return ErrorIn(1, "S", "nor any other result; add one, such as S");
  }
  for (const CsvRow& row : table.rows) {
    absl::StatusOr<std::vector<TimedValue>> series = ReadSeries(row, *columns);
    if (!series.ok()) return series.status();
    absl::Status compared =
        CompareRow(table, row, MeasureTrend(*std::move(series)), comparison);
    if (!compared.ok()) return compared;
    ++comparison.rows;
  }
  return comparison;
}

}  // namespace turnstone::reference
