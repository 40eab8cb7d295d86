#include "clients/cli/form_table.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "clients/cli/form_row.h"
#include "platform/csv.h"

namespace turnstone::cli {
namespace {

struct Column {
  const char* name;
  std::string FormRow::*cell;
  bool required;
};
constexpr Column kColumns[] = {
    {"participant", &FormRow::participant, true},
    {"date", &FormRow::date, true},
    {"instrument", &FormRow::instrument, true},
    {"answers", &FormRow::answers, false},
    {"total", &FormRow::total, false},
};

bool IsKnown(const std::string& name) {
  return std::any_of(std::begin(kColumns), std::end(kColumns),
                     [&](const Column& column) { return name == column.name; });
}

absl::Status WrongColumns(const std::string& what,
                          const std::string& hint = "") {
  return absl::InvalidArgumentError(absl::StrCat(
      what,
      "; the columns are participant, date, instrument, and answers or total "
      "or both: write these names, and no others, on the first line",
      hint));
}

// What is likely wrong with a name that no column has.
std::string Hint(const std::string& name) {
  if (name.find_first_of(";\t") != std::string::npos) {
    return "; the columns are separated by commas";
  }
  return IsKnown(absl::AsciiStrToLower(name))
             ? "; write them in lower-case letters"
             : "";
}

absl::Status CheckColumns(const CsvTable& header) {
  for (size_t i = 0; i < header.columns.size(); ++i) {
    if (IsKnown(header.columns[i])) continue;
    return WrongColumns(absl::StrCat("column ", i + 1, " is not known here"),
                        Hint(header.columns[i]));
  }
  for (const Column& column : kColumns) {
    if (!column.required || header.Find(column.name)) continue;
    return WrongColumns(absl::StrCat("there is no column ", column.name));
  }
  if (header.Find("answers") || header.Find("total")) return absl::OkStatus();
  return WrongColumns("there is no column answers and none total");
}

// What the parser says, without the number of the line: it saw only this one
// and the header.
absl::Status WithoutLine(const absl::Status& status) {
  const std::string message(status.message());
  const size_t colon = message.find(": ");
  if (colon == std::string::npos) return status;
  return absl::Status(status.code(), message.substr(colon + 2));
}

absl::Status CheckHeader(const std::string& header) {
  const absl::StatusOr<CsvTable> columns = ParseCsv(header);
  if (!columns.ok()) return WithoutLine(columns.status());
  return CheckColumns(*columns);
}

absl::StatusOr<FormRow> ReadRow(const std::string& header,
                                const std::string& line, int number) {
  const absl::StatusOr<CsvTable> table =
      ParseCsv(absl::StrCat(header, "\n", line));
  if (!table.ok()) return WithoutLine(table.status());
  FormRow row;
  row.line = number;
  for (const Column& column : kColumns) {
    if (const auto at = table->Find(column.name)) {
      row.*column.cell =
          std::string(absl::StripAsciiWhitespace(table->rows[0].cells[*at]));
    }
  }
  return row;
}

bool IsBlank(const std::string& line) {
  return absl::StripAsciiWhitespace(line).empty();
}

}  // namespace

MeasureInput ReadFormTable(const std::string& text, const Catalogue& catalogue,
                           absl::TimeZone zone) {
  const std::vector<std::string> lines = absl::StrSplit(
      absl::StrReplaceAll(text, {{"\r\n", "\n"}, {"\r", "\n"}}), '\n');
  const auto header = std::find_if_not(lines.begin(), lines.end(), IsBlank);
  if (header == lines.end()) {
    return {{}, {{1, "nothing here; write a table or events"}}};
  }
  int number = static_cast<int>(header - lines.begin()) + 1;
  const absl::Status named = CheckHeader(*header);
  if (!named.ok()) return {{}, {{number, std::string(named.message())}}};
  MeasureInput input;
  // No cell needs more than one line. Read one by one, a bad line spoils none
  // of the others.
  for (auto line = header + 1; line != lines.end(); ++line) {
    ++number;
    if (IsBlank(*line)) continue;
    const absl::StatusOr<FormRow> row = ReadRow(*header, *line, number);
    absl::StatusOr<v1::Event> event =
        row.ok() ? EventFrom(*row, catalogue, zone)
                 : absl::StatusOr<v1::Event>(row.status());
    if (event.ok()) {
      input.events.push_back({number, *std::move(event)});
    } else {
      input.refused.push_back({number, std::string(event.status().message())});
    }
  }
  return input;
}

}  // namespace turnstone::cli
