#include "rules/check/plausible.h"

#include <absl/strings/ascii.h>
#include <absl/strings/numbers.h>

#include <algorithm>

namespace turnstone {
namespace {

constexpr size_t kLongestName = 100;

// Graphic ASCII but the characters of `refused`.
bool IsGraphicBut(const std::string& text, const std::string& refused) {
  return std::all_of(text.begin(), text.end(), [&](char letter) {
    return absl::ascii_isgraph(static_cast<unsigned char>(letter)) &&
           refused.find(letter) == std::string::npos;
  });
}

}  // namespace

bool IsMailAddress(const std::string& text) {
  const size_t at = text.find('@');
  return at != std::string::npos && at > 0 && at + 1 < text.size() &&
         text.find('@', at + 1) == std::string::npos &&
         IsGraphicBut(text, "()<>[]:;,\\\"");
}

bool IsHost(const std::string& text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char letter) {
           return absl::ascii_isalnum(static_cast<unsigned char>(letter)) ||
                  letter == '.' || letter == '-';
         });
}

bool IsHostAndPort(const std::string& text) {
  const size_t colon = text.find(':');
  if (!IsHost(text.substr(0, colon))) return false;
  if (colon == std::string::npos) return true;
  int port = 0;
  return absl::SimpleAtoi(text.substr(colon + 1), &port) && 1 <= port &&
         port <= 65535;
}

bool IsFileName(const std::string& text) {
  return !text.starts_with('.') && IsGraphicBut(text, "/\\");
}

bool IsKeyId(const std::string& text) {
  return !text.empty() && text.size() <= kLongestName &&
         IsGraphicBut(text, "\"\\");
}

bool IsPersonId(const std::string& text) {
  const auto is_inside = [](char letter) {
    return absl::ascii_isprint(static_cast<unsigned char>(letter)) &&
           letter != ',' && letter != '/';
  };
  return !text.empty() && text.size() <= kLongestName && text.front() != ' ' &&
         text.back() != ' ' && std::all_of(text.begin(), text.end(), is_inside);
}

}  // namespace turnstone
