// A wall that somebody may set, and time that goes on evenly all the same.
#pragma once

#include <absl/time/time.h>

#include "platform/clock.h"

namespace turnstone::faults {

// Single-thread.
class SimClock final : public Clock {
 public:
  explicit SimClock(absl::Time start) : wall_(start) {}
  [[nodiscard]] absl::Time Now() const override { return wall_; }
  [[nodiscard]] absl::Duration Elapsed() const override { return elapsed_; }
  void Pass(absl::Duration by) {
    wall_ += by;
    elapsed_ += by;
  }
  // Forwards or backwards.
  void SetWall(absl::Duration by) { wall_ += by; }

 private:
  absl::Time wall_;
  absl::Duration elapsed_;
};

}  // namespace turnstone::faults
