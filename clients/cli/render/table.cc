#include "clients/cli/render/table.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>
#include <absl/strings/strip.h>

#include <algorithm>
#include <utility>

#include "clients/cli/render/text.h"

namespace turnstone::cli {
namespace {

// Writes `cell` beside the lines, from `column` on, or below them.
void AppendColumn(const std::vector<std::string>& cell, size_t column,
                  bool below, std::vector<std::string>& lines) {
  const size_t first = below ? lines.size() : 0;
  for (size_t i = 0; i < cell.size(); ++i) {
    if (lines.size() <= first + i) lines.emplace_back();
    lines[first + i] = Pad(lines[first + i], column) + cell[i];
  }
}

// What the last column of a table needs to be read beside the others.
constexpr size_t kLeastRoom = 16;

size_t LongestLine(const std::string& cell) {
  size_t longest = 0;
  for (const auto line : absl::StrSplit(cell, '\n')) {
    longest = std::max(longest, Width(std::string(line)));
  }
  return longest;
}

// A row of a table without its last cell.
std::vector<std::string> SideBySide(const std::vector<std::string>& row,
                                    const std::vector<size_t>& widths,
                                    size_t indent) {
  std::vector<std::string> lines(1, std::string(indent, ' '));
  size_t column = indent;
  for (size_t i = 0; i + 1 < row.size(); ++i) {
    const std::vector<std::string> cell = absl::StrSplit(row[i], '\n');
    AppendColumn(cell, column, /*below=*/false, lines);
    column += widths[i] + 2;
  }
  return lines;
}

}  // namespace

Table::Table(std::vector<std::string> headings) : columns_(headings.size()) {
  Add(std::move(headings));
}

void Table::Add(std::vector<std::string> cells) {
  rows_.push_back(std::move(cells));
}

void Table::AddHeading(const std::string& text) { rows_.push_back({text}); }

std::vector<size_t> Table::Widths() const {
  std::vector<size_t> widths(columns_, 0);
  for (const auto& row : rows_) {
    for (size_t i = 0; row.size() == columns_ && i < columns_; ++i) {
      widths[i] = std::max(widths[i], LongestLine(row[i]));
    }
  }
  return widths;
}

std::string Table::ToString(size_t indent) const {
  const std::vector<size_t> widths = Widths();
  size_t before_last = indent;
  for (size_t i = 0; i + 1 < columns_; ++i) before_last += widths[i] + 2;
  const bool below = before_last + kLeastRoom > kTableWidth;
  std::string text;
  for (const auto& row : rows_) {
    if (row.size() != columns_) {
      absl::StrAppend(&text, "\n", std::string(indent, ' '), row[0], "\n");
      continue;
    }
    std::vector<std::string> lines = SideBySide(row, widths, indent);
    const size_t last_at = below ? indent + 4 : before_last;
    const std::vector<std::string> last = absl::StrSplit(
        absl::StripSuffix(WrapAfter("", row.back(), 0, kTableWidth - last_at),
                          "\n"),
        '\n');
    AppendColumn(last, last_at, below, lines);
    for (std::string& line : lines) {
      absl::StripTrailingAsciiWhitespace(&line);
      absl::StrAppend(&text, line, "\n");
    }
  }
  return text;
}

}  // namespace turnstone::cli
