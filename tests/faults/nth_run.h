// Goes through the scenarios, operation by operation.
#pragma once

#include <cstdint>
#include <string>

namespace turnstone::faults {

struct NthOptions {
  uint64_t seed = 1;
  // About so many lives, spread evenly over all operations of all scenarios
  // from an offset the seed gives; 0: every operation, every trouble.
  int64_t lives = 400;
  // Only scenarios whose name contains it.
  std::string only;
  // Only this operation, with every trouble; 0: see `lives`.
  int64_t operation = 0;
};

// Prints what it does. False if anything broke.
[[nodiscard]] bool RunNth(const NthOptions& options);

}  // namespace turnstone::faults
