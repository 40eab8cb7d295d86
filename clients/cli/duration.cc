#include "clients/cli/duration.h"

#include <regex>

namespace turnstone::cli {

absl::StatusOr<absl::Duration> ParseDuration(const std::string& text) {
  // Six digits keep the sum far from overflow; the service sets the limit.
  static const std::regex pattern(
      R"((?:(\d{1,6})d)?(?:(\d{1,6})h)?(?:(\d{1,6})m)?)");
  std::smatch part;
  absl::Duration sum;
  if (std::regex_match(text, part, pattern)) {
    const auto count = [&part](size_t i) {
      return part[i].matched ? std::stoi(part[i].str()) : 0;
    };
    sum = absl::Hours(24 * count(1)) + absl::Hours(count(2)) +
          absl::Minutes(count(3));
  }
  if (sum > absl::ZeroDuration()) return sum;
  return absl::InvalidArgumentError(
      "that is not a length of time; write days, hours and minutes, for "
      "example\n26h, 3d, 90m or 1d6h");
}

}  // namespace turnstone::cli
