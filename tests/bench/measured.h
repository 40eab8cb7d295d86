// What one measurement found.
#pragma once

#include <chrono>
#include <cstdint>
#include <nlohmann/json.hpp>
#include <vector>

namespace turnstone {

using BenchClock = std::chrono::steady_clock;

// In microseconds.
[[nodiscard]] double Since(BenchClock::time_point begin);

struct Measured {
  int64_t events = 0;
  double seconds = 0;
  std::vector<double> micros;           // how long each took
  std::vector<double> follower_micros;  // until it was seen by a follower
  int64_t refused = 0;
  // The highest number the server has given an event.
  int64_t last_sequence = 0;
  double server_cpu_seconds = 0;

  [[nodiscard]] double PerSecond() const {
    return static_cast<double>(events) / seconds;
  }
};

// The value that `share` (0 to 1) of them do not exceed. REQUIRES: not empty.
[[nodiscard]] double Quantile(std::vector<double> values, double share);
[[nodiscard]] double Median(const std::vector<double>& values);

// The repeats of one measurement: of each figure the median, and the extremes
// of the rate.
[[nodiscard]] nlohmann::ordered_json Summary(
    const std::vector<Measured>& repeats);

}  // namespace turnstone
