#include "platform/csv.h"

#include <absl/status/status.h>
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <utility>

namespace turnstone {
namespace {

absl::Status ErrorAt(int line, const std::string& what) {
  return absl::InvalidArgumentError(absl::StrCat("line ", line, ": ", what));
}

// Walks through the text once. No character but a comma, a quote and the ends
// of lines means anything to it.
class Scanner {
 public:
  explicit Scanner(const std::string& text) : text_(text) {
    if (absl::StartsWith(text, "\xEF\xBB\xBF")) at_ = 3;
  }

  // All rows that are not empty lines.
  absl::StatusOr<std::vector<CsvRow>> Rows() {
    std::vector<CsvRow> rows;
    while (at_ < text_.size()) {
      const size_t start = at_;
      CsvRow row{line_, {}};
      do {
        absl::StatusOr<std::string> cell = See('"') ? Quoted() : Plain();
        if (!cell.ok()) return cell.status();
        row.cells.push_back(*std::move(cell));
      } while (Take(','));
      if (at_ > start) rows.push_back(std::move(row));
      TakeEndOfLine();
    }
    return rows;
  }

 private:
  [[nodiscard]] bool See(char wanted) const {
    return at_ < text_.size() && text_[at_] == wanted;
  }
  [[nodiscard]] bool SeeEndOfCell() const {
    return at_ == text_.size() || See(',') || See('\r') || See('\n');
  }
  bool Take(char wanted) {
    if (!See(wanted)) return false;
    ++at_;
    return true;
  }
  bool TakeEndOfLine() {
    const bool returned = Take('\r');
    if (!Take('\n') && !returned) return false;
    ++line_;
    return true;
  }

  absl::StatusOr<std::string> Plain() {
    const size_t start = at_;
    while (!SeeEndOfCell()) {
      if (Take('"')) {
        return ErrorAt(
            line_,
            "a quote inside a cell that does not begin with one; "
            "put quotes around the whole cell and write this one twice");
      }
      ++at_;
    }
    return text_.substr(start, at_ - start);
  }

  absl::StatusOr<std::string> Quoted() {
    const int opened = line_;
    std::string cell;
    Take('"');
    // A quote ends the cell unless another follows: two stand for one inside.
    while (!Take('"') || See('"')) {
      if (at_ == text_.size()) {
        return ErrorAt(opened,
                       "a quote opens a cell and none closes it; write one "
                       "after the cell, and those inside it twice");
      }
      const size_t start = at_;
      if (!TakeEndOfLine()) ++at_;
      cell.append(text_, start, at_ - start);
    }
    if (SeeEndOfCell()) return cell;
    return ErrorAt(line_,
                   "text after the quote that closes a cell; write a comma "
                   "first, or the quote twice if it belongs to the cell");
  }

  const std::string& text_;
  size_t at_ = 0;
  int line_ = 1;
};

absl::Status CheckNames(const CsvRow& header) {
  std::map<std::string, size_t> number_by_name;
  for (size_t i = 0; i < header.cells.size(); ++i) {
    if (header.cells[i].empty()) {
      return ErrorAt(header.line,
                     absl::StrCat("column ", i + 1, " has no name; write one"));
    }
    const auto [named, added] = number_by_name.emplace(header.cells[i], i + 1);
    if (!added) {
      return ErrorAt(header.line,
                     absl::StrCat("columns ", named->second, " and ", i + 1,
                                  " have the same name; give "
                                  "each its own"));
    }
  }
  return absl::OkStatus();
}

absl::Status CheckWidth(const CsvRow& row, size_t columns) {
  if (row.cells.size() == columns) return absl::OkStatus();
  return ErrorAt(row.line,
                 absl::StrCat("the row has ", row.cells.size(), " of ", columns,
                              " cells; write one for each column, empty where "
                              "there is nothing, and quotes around one that "
                              "holds a comma"));
}

absl::Status CheckForNul(const std::string& text) {
  const auto nul = std::find(text.begin(), text.end(), '\0');
  if (nul == text.end()) return absl::OkStatus();
  return ErrorAt(static_cast<int>(std::count(text.begin(), nul, '\n')) + 1,
                 "a NUL byte; save the file as text in UTF-8");
}

}  // namespace

std::optional<size_t> CsvTable::Find(const std::string& column) const {
  const auto found = std::find(columns.begin(), columns.end(), column);
  if (found == columns.end()) return std::nullopt;
  return static_cast<size_t>(found - columns.begin());
}

absl::StatusOr<CsvTable> ParseCsv(const std::string& text) {
  if (absl::Status text_only = CheckForNul(text); !text_only.ok()) {
    return text_only;
  }
  absl::StatusOr<std::vector<CsvRow>> rows = Scanner(text).Rows();
  if (!rows.ok()) return rows.status();
  if (rows->empty()) {
    return ErrorAt(1, "nothing here; write the names of the columns first");
  }
  const CsvRow& header = rows->front();
  if (absl::Status named = CheckNames(header); !named.ok()) return named;
  CsvTable table{header.cells, {}};
  for (auto row = rows->begin() + 1; row != rows->end(); ++row) {
    if (absl::Status wide = CheckWidth(*row, table.columns.size());
        !wide.ok()) {
      return wide;
    }
    table.rows.push_back(std::move(*row));
  }
  return table;
}

}  // namespace turnstone
