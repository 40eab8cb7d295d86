// The results of a trend, by the names they have in tables of worked cases.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "rules/measure/trend.h"

namespace turnstone::reference {

struct TrendResult {
  std::string column;
  // Absent where the result is not defined.
  std::function<std::optional<double>(const Trend&)> of;
};

// All that the library computes. Siegel's repeated medians and the joint
// intercept of the Theil-Sen line are not among them.
[[nodiscard]] const std::vector<TrendResult>& TrendResults();

}  // namespace turnstone::reference
