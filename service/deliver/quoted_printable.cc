#include "service/deliver/quoted_printable.h"

#include <absl/strings/str_split.h>
#include <absl/strings/string_view.h>
#include <absl/strings/strip.h>

namespace turnstone {
namespace {

constexpr size_t kLineMax = 76;

// A space is written out at the end of a line only, where servers drop it.
std::string Encode(char c, bool last) {
  const bool plain = (c > ' ' && c <= '~' && c != '=') || (c == ' ' && !last);
  if (plain) return {c};
  constexpr char kDigits[] = "0123456789ABCDEF";
  const unsigned byte = static_cast<unsigned char>(c);
  return {'=', kDigits[byte / 16], kDigits[byte % 16]};
}

std::string EncodeLine(absl::string_view line) {
  std::string encoded;
  size_t width = 0;
  for (size_t i = 0; i < line.size(); ++i) {
    const bool last = i + 1 == line.size();
    const std::string next = Encode(line[i], last);
    // Every line but the last needs room for the "=" that breaks it.
    if (width + next.size() > kLineMax - (last ? 0 : 1)) {
      encoded += "=\r\n";
      width = 0;
    }
    encoded += next;
    width += next.size();
  }
  return encoded + "\r\n";
}

}  // namespace

std::string QuotedPrintable(const std::string& text) {
  std::string encoded;
  const auto lines = absl::StripSuffix(text, "\n");
  for (const absl::string_view line : absl::StrSplit(lines, '\n')) {
    encoded += EncodeLine(line);
  }
  return encoded;
}

}  // namespace turnstone
