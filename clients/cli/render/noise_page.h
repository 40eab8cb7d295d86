// How often rules on change would speak without cause: for a person, for a
// program.
#pragma once

#include <string>
#include <vector>

#include "rules/check/noise_report.h"

namespace turnstone::cli {

[[nodiscard]] std::string NoisePage(const std::vector<NoiseOf>& noise);

// One JSON object with site, rule, condition, note and rows; no newline. Shares
// are fractions of 1.
[[nodiscard]] std::string NoiseJson(const NoiseOf& noise);

}  // namespace turnstone::cli
