// Counting cases, of which there may be more than fit a number.
#pragma once

#include <cstdint>
#include <limits>

namespace turnstone {

inline constexpr uint64_t kUncounted = std::numeric_limits<uint64_t>::max();

// Stay at kUncounted once they reach it. Pure.
inline uint64_t Plus(uint64_t a, uint64_t b) {
  return a > kUncounted - b ? kUncounted : a + b;
}
inline uint64_t Times(uint64_t a, uint64_t b) {
  if (a != 0 && b > kUncounted / a) return kUncounted;
  return a * b;
}

}  // namespace turnstone
