// The service's time: the clock's; where that was set back, it goes on from
// where it was, at an even pace, so that no deadline waits for it.
#pragma once

#include <absl/time/time.h>

#include "platform/clock.h"

namespace turnstone {

// Single-thread.
class ServiceTime {
 public:
  // `clock` outlives this.
  explicit ServiceTime(const Clock& clock) : clock_(clock) {}

  // Goes on from `last`, recorded in an earlier life, unless the clock is
  // ahead of it.
  void GoOnFrom(absl::Time last);
  [[nodiscard]] absl::Time Now();
  // As Clock::Elapsed.
  [[nodiscard]] absl::Duration Elapsed() const { return clock_.Elapsed(); }
  // By how much the clock is behind.
  [[nodiscard]] absl::Duration Behind();
  // By how much the clock was set ahead at once since this was last asked.
  [[nodiscard]] absl::Duration TakeJump();

 private:
  const Clock& clock_;
  absl::Time now_ = absl::InfinitePast();
  absl::Duration elapsed_at_now_;
  absl::Duration jump_;
};

}  // namespace turnstone
