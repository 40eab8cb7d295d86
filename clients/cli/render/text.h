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

// No wider than that, which is at least 1: what does not fit gives way to "~".
[[nodiscard]] std::string Clip(const std::string& text, size_t width);

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

}  // namespace turnstone::cli
