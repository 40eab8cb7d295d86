// Series of values for the tests of change and trend.
#pragma once

#include <vector>

#include "rules/measure/mann_kendall.h"

namespace turnstone::testing {

// REQUIRES: as many days as values.
inline std::vector<TimedValue> On(const std::vector<double>& days,
                                  const std::vector<double>& values) {
  std::vector<TimedValue> series;
  series.reserve(days.size());
  for (size_t i = 0; i < days.size(); ++i) {
    series.push_back({days[i], values.at(i)});
  }
  return series;
}

// Days 0, `step`, 2 `step` and so on.
inline std::vector<TimedValue> Every(double step,
                                     const std::vector<double>& values) {
  std::vector<TimedValue> series;
  series.reserve(values.size());
  for (const double value : values) {
    series.push_back({step * static_cast<double>(series.size()), value});
  }
  return series;
}

}  // namespace turnstone::testing
