#include "service/store/page_token.h"

#include <absl/status/status.h>
#include <absl/strings/escaping.h>
#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <vector>

namespace turnstone {
namespace {

// Begins every token, so that a later form can be told from this one.
constexpr char kForm[] = "1";

}  // namespace

std::string ToPageToken(const AlertPlace& place) {
  return absl::WebSafeBase64Escape(absl::StrCat(
      kForm, ":", place.priority, ":", place.raised_at, ":", place.number));
}

absl::StatusOr<AlertPlace> FromPageToken(const std::string& token) {
  AlertPlace place;
  if (token.empty()) return place;
  std::string text;
  if (absl::WebSafeBase64Unescape(token, &text)) {
    const std::vector<std::string> parts = absl::StrSplit(text, ':');
    if (parts.size() == 4 && absl::SimpleAtoi(parts[1], &place.priority) &&
        absl::SimpleAtoi(parts[2], &place.raised_at) &&
        absl::SimpleAtoi(parts[3], &place.number) &&
        ToPageToken(place) == token) {
      return place;
    }
  }
  return absl::InvalidArgumentError(
      "page_token is not one this service gave out: send next_page_token of "
      "the previous response unchanged, or leave it out to begin again");
}

}  // namespace turnstone
