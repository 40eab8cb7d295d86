#include "tests/bench/measured.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>

namespace turnstone {
namespace {

using Figure = std::function<double(const Measured&)>;

double MedianOf(const std::vector<Measured>& repeats, const Figure& figure) {
  std::vector<double> values(repeats.size());
  std::transform(repeats.begin(), repeats.end(), values.begin(), figure);
  return Median(values);
}

nlohmann::ordered_json Quantiles(const std::vector<Measured>& repeats,
                                 std::vector<double> Measured::*values) {
  nlohmann::ordered_json found;
  const auto quantile = [&](double share) {
    return MedianOf(repeats, [values, share](const Measured& one) {
      return Quantile(one.*values, share);
    });
  };
  found["p50"] = quantile(.5);
  found["p99"] = quantile(.99);
  found["p99.9"] = quantile(.999);
  return found;
}

}  // namespace

double Since(BenchClock::time_point begin) {
  return std::chrono::duration<double, std::micro>(BenchClock::now() - begin)
      .count();
}

double Quantile(std::vector<double> values, double share) {
  const double rank = std::ceil(share * static_cast<double>(values.size()));
  const auto place =
      values.begin() +
      std::max<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(rank) - 1, 0);
  std::nth_element(values.begin(), place, values.end());
  return *place;
}

double Median(const std::vector<double>& values) {
  return Quantile(values, .5);
}

nlohmann::ordered_json Summary(const std::vector<Measured>& repeats) {
  nlohmann::ordered_json found;
  const auto rate = [](const Measured& one) { return one.PerSecond(); };
  std::vector<double> rates(repeats.size());
  std::transform(repeats.begin(), repeats.end(), rates.begin(), rate);
  found["events"] = repeats[0].events;
  found["repeats"] = repeats.size();
  found["per_second"] = Median(rates);
  found["per_second_low"] = *std::min_element(rates.begin(), rates.end());
  found["per_second_high"] = *std::max_element(rates.begin(), rates.end());
  found["micros"] = Quantiles(repeats, &Measured::micros);
  if (!repeats[0].follower_micros.empty()) {
    found["follower_micros"] = Quantiles(repeats, &Measured::follower_micros);
  }
  found["server_cpu_micros"] = MedianOf(repeats, [](const Measured& one) {
    return one.server_cpu_seconds * 1e6 / static_cast<double>(one.events);
  });
  return found;
}

}  // namespace turnstone
