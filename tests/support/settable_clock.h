// A machine's clock whose wall time is set while time goes on.
#pragma once

#include <absl/time/time.h>

#include "platform/clock.h"

namespace turnstone {

// Single-thread.
class SettableClock final : public Clock {
 public:
  explicit SettableClock(absl::Time wall) : wall_(wall) {}
  [[nodiscard]] absl::Time Now() const override { return wall_; }
  [[nodiscard]] absl::Duration Elapsed() const override { return elapsed_; }

  // Time goes by.
  void Pass(absl::Duration by) {
    wall_ += by;
    elapsed_ += by;
  }
  // Somebody sets the clock by so much, forwards or backwards.
  void Set(absl::Duration by) { wall_ += by; }
  // The machine starts anew: what has elapsed is counted from then.
  void Restart() { elapsed_ = absl::Seconds(20); }

 private:
  absl::Time wall_;
  absl::Duration elapsed_ = absl::Hours(100);
};

}  // namespace turnstone
