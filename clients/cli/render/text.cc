#include "clients/cli/render/text.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_replace.h>
#include <absl/strings/str_split.h>
#include <absl/strings/strip.h>

#include <algorithm>
#include <cctype>

namespace turnstone::cli {
namespace {

std::string WrapLine(const std::string& start, const std::string& text,
                     size_t hanging, size_t width) {
  const std::vector<std::string> words =
      absl::StrSplit(text, ' ', absl::SkipEmpty());
  std::string lines;
  std::string line = start;
  bool empty = true;
  for (const std::string& word : words) {
    if (!empty && Width(line) + 1 + Width(word) > width) {
      lines += line + "\n";
      line.assign(hanging, ' ');
      empty = true;
    }
    line += empty ? word : " " + word;
    empty = false;
  }
  absl::StripTrailingAsciiWhitespace(&line);
  return lines + line + "\n";
}

// How far the text of a list item stands from its mark; 0 if it is none.
size_t ItemMark(const std::string& line) {
  if (absl::StartsWith(line, "- ") || absl::StartsWith(line, "* ")) return 2;
  size_t digits = 0;
  while (digits < line.size() && std::isdigit(line[digits]) != 0) ++digits;
  return digits > 0 && line.substr(digits, 2) == ". " ? digits + 2 : 0;
}

}  // namespace

size_t Width(const std::string& text) {
  return static_cast<size_t>(std::count_if(
      text.begin(), text.end(), [](char c) { return (c & '\xc0') != '\x80'; }));
}

std::string Pad(const std::string& text, size_t width) {
  const size_t have = Width(text);
  return text + std::string(width > have ? width - have : 0, ' ');
}

std::string WrapAfter(const std::string& start, const std::string& text,
                      size_t hanging, size_t width) {
  std::string lines;
  std::string line_start = start;
  const std::vector<std::string> parts = absl::StrSplit(text, '\n');
  for (const std::string& line : parts) {
    lines += WrapLine(line_start, line, hanging, width);
    line_start.assign(hanging, ' ');
  }
  return lines;
}

std::string Clip(const std::string& text, size_t width) {
  if (Width(text) <= width) return text;
  size_t bytes = 0;
  for (size_t left = width; bytes < text.size(); ++bytes) {
    const bool begins = (text[bytes] & '\xc0') != '\x80';
    if (begins && left-- == 1) break;
  }
  return text.substr(0, bytes) + "~";
}

std::string Wrap(const std::string& text, size_t indent) {
  return WrapAfter(std::string(indent, ' '), text, indent);
}

std::string Count(long long count, const std::string& noun) {
  return absl::StrCat(count, " ", noun, count == 1 ? "" : "s");
}

std::string PlainMarkdown(const std::string& text, size_t indent) {
  std::vector<std::string> parts =
      absl::StrSplit(absl::StripTrailingAsciiWhitespace(text), '\n');
  std::string lines;
  for (std::string& line : parts) {
    line.erase(0, std::min(line.find_first_not_of('#'), line.size()));
    absl::StripAsciiWhitespace(&line);
    line = absl::StrReplaceAll(line, {{"**", ""}});
    lines += WrapAfter(std::string(indent, ' '), line, indent + ItemMark(line));
  }
  return lines;
}

}  // namespace turnstone::cli
