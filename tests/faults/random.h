// Chance that a seed decides: the same on every machine, unlike the standard
// library's distributions.
#pragma once

#include <cstddef>
#include <cstdint>
#include <random>
#include <vector>

namespace turnstone::faults {

// Single-thread.
class Random {
 public:
  explicit Random(uint64_t seed) : engine_(seed) {}

  [[nodiscard]] uint64_t Next() { return engine_(); }
  // From 0 to `n` - 1. REQUIRES: n > 0.
  [[nodiscard]] int64_t Below(int64_t n) {
    return static_cast<int64_t>(engine_() % static_cast<uint64_t>(n));
  }
  // From `low` to `high`, both included.
  [[nodiscard]] int64_t Between(int64_t low, int64_t high) {
    return low + Below(high - low + 1);
  }
  // True that many times of 1000.
  [[nodiscard]] bool PerMille(int64_t chance) { return Below(1000) < chance; }
  // REQUIRES: not empty.
  template <typename T>
  [[nodiscard]] const T& OneOf(const std::vector<T>& all) {
    return all[static_cast<size_t>(Below(static_cast<int64_t>(all.size())))];
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace turnstone::faults
