// Laying out plain text. Widths are in characters, not bytes.
#pragma once

#include <string>
#include <vector>

namespace turnstone::cli {

inline constexpr size_t kPageWidth = 78;
inline constexpr size_t kTableWidth = 96;

[[nodiscard]] size_t Width(const std::string& text);

// With spaces up to the width.
[[nodiscard]] std::string Pad(const std::string& text, size_t width);

// Lines no wider than `width`, broken at spaces and at the newlines in `text`,
// each ended by a newline. The first begins with `start`, the others with
// `hanging` spaces. A longer word stands on a line of its own.
[[nodiscard]] std::string WrapAfter(const std::string& start,
                                    const std::string& text, size_t hanging,
                                    size_t width = kPageWidth);

// The same with every line indented alike.
[[nodiscard]] std::string Wrap(const std::string& text, size_t indent);

// "1 alert", "3 alerts".
[[nodiscard]] std::string Count(long long count, const std::string& noun);

// Markdown without its marks for headings and strong words, wrapped and
// indented by `indent`. List items hang.
[[nodiscard]] std::string PlainMarkdown(const std::string& text, size_t indent);

// Columns as wide as their widest cell. The last one is wrapped within the
// page; a newline in it begins a line of its own.
class Table {
 public:
  // With no headings, no line for them.
  explicit Table(std::vector<std::string> headings);

  void Add(std::vector<std::string> cells);
  // A line across all columns, an empty one before it.
  void AddHeading(const std::string& text);

  [[nodiscard]] std::string ToString(size_t indent) const;

 private:
  // A heading is a row of one cell where the table has more.
  std::vector<std::vector<std::string>> rows_;
  size_t columns_;
};

}  // namespace turnstone::cli
