// Chance from a seed: the same numbers on every machine, which the standard
// library's distributions do not promise.
#pragma once

#include <cstdint>
#include <random>
#include <vector>

namespace turnstone::second {

class Dice {
 public:
  explicit Dice(uint64_t seed) : engine_(seed) {}

  // From `low` to `high`, both included.
  int Between(int low, int high) {
    const int sides = high - low + 1;
    return low + static_cast<int>(engine_() % static_cast<uint64_t>(sides));
  }
  // In so many of 100 cases.
  bool Once(int percent) { return Between(1, 100) <= percent; }
  template <typename List>
  const auto& OneOf(const List& list) {
    return list[static_cast<typename List::size_type>(
        Between(0, static_cast<int>(list.size()) - 1))];
  }

 private:
  std::mt19937_64 engine_;
};

}  // namespace turnstone::second
