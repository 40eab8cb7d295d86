#include <algorithm>
#include <cmath>
#include <map>

#include "rules/measure/slope.h"

namespace turnstone {
namespace {

constexpr double kZ975 = 1.959963984540054;  // 97.5 % of the normal curve

// REQUIRES: not empty.
double Median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const size_t half = values.size() / 2;
  if (values.size() % 2 == 1) return values[half];
  return (values[half - 1] + values[half]) / 2;
}

// The sum of t (t - 1) (2 t + 5) over values that occur t times.
double Spread(const std::vector<double>& values) {
  std::map<double, double> times;
  for (const double value : values) ++times[value];
  double sum = 0;
  for (const auto& [value, t] : times) sum += t * (t - 1) * (2 * t + 5);
  return sum;
}

// REQUIRES: `slopes` are in order and there is at least one.
SlopeRange IntervalOf(const std::vector<double>& slopes,
                      const std::vector<double>& days,
                      const std::vector<double>& values) {
  const auto n = static_cast<double>(days.size());
  const auto pairs = static_cast<double>(slopes.size());
  const double variance =
      (n * (n - 1) * (2 * n + 5) - Spread(days) - Spread(values)) / 18;
  // With many values on few days the approximation breaks down: then nothing is
  // left out.
  if (variance < 0) return {slopes.front(), slopes.back()};
  const double reach = kZ975 * std::sqrt(variance);
  // nearbyint rounds halves to the even number, as the reference does.
  const double upper = std::min(std::nearbyint((pairs + reach) / 2), pairs - 1);
  const double lower = std::max(std::nearbyint((pairs - reach) / 2) - 1, 0.0);
  return {slopes[static_cast<size_t>(lower)],
          slopes[static_cast<size_t>(upper)]};
}

}  // namespace

std::optional<TheilSenLine> TheilSen(const std::vector<TimedValue>& series) {
  std::vector<double> slopes;
  std::vector<double> days;
  std::vector<double> values;
  for (const TimedValue& a : series) {
    days.push_back(a.day);
    values.push_back(a.value);
    for (const TimedValue& b : series) {
      if (a.day < b.day)
        slopes.push_back((b.value - a.value) / (b.day - a.day));
    }
  }
  if (slopes.empty()) return std::nullopt;
  std::sort(slopes.begin(), slopes.end());
  TheilSenLine line;
  line.slope = Median(slopes);
  line.slope_95 = IntervalOf(slopes, days, values);
  line.intercept =
      Median(std::move(values)) - line.slope * Median(std::move(days));
  return line;
}

}  // namespace turnstone
