// Text in columns.
#pragma once

#include <string>
#include <vector>

namespace turnstone::cli {

// Columns as wide as their widest cell. A newline in a cell begins a line of
// its own. The last column is wrapped within the page; where the others leave
// it no room, it stands below them.
class Table {
 public:
  // With no headings, no line for them.
  explicit Table(std::vector<std::string> headings);

  void Add(std::vector<std::string> cells);
  // A line across all columns, an empty one before it.
  void AddHeading(const std::string& text);

  [[nodiscard]] std::string ToString(size_t indent) const;

 private:
  [[nodiscard]] std::vector<size_t> Widths() const;

  // A heading is a row of one cell where the table has more.
  std::vector<std::vector<std::string>> rows_;
  size_t columns_;
};

}  // namespace turnstone::cli
