#include "rules/duty/written_time.h"

#include <absl/strings/ascii.h>
#include <absl/strings/numbers.h>

namespace turnstone {
namespace {

// Written in full: parsing and writing give the text back.
template <typename Civil>
std::optional<Civil> ReadCivil(const std::string& text) {
  Civil civil;
  if (!absl::ParseCivilTime(text, &civil)) return std::nullopt;
  if (absl::FormatCivilTime(civil) != text) return std::nullopt;
  return civil;
}

}  // namespace

std::optional<absl::CivilDay> ReadDay(const std::string& text) {
  return ReadCivil<absl::CivilDay>(text);
}

std::optional<absl::Duration> ReadTimeOfDay(const std::string& text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  for (const size_t digit : {0U, 1U, 3U, 4U}) {
    if (!absl::ascii_isdigit(static_cast<unsigned char>(text[digit]))) {
      return std::nullopt;
    }
  }
  int hours = 0;
  int minutes = 0;
  (void)absl::SimpleAtoi(text.substr(0, 2), &hours);
  (void)absl::SimpleAtoi(text.substr(3, 2), &minutes);
  if (minutes > 59 || 60 * hours + minutes > 24 * 60) return std::nullopt;
  return absl::Hours(hours) + absl::Minutes(minutes);
}

std::optional<absl::CivilMinute> ReadLocalTime(const std::string& text) {
  return ReadCivil<absl::CivilMinute>(text);
}

}  // namespace turnstone
