#include "service/core/service_time.h"

#include <algorithm>
#include <utility>

namespace turnstone {

// The time the service was down is no jump of the clock.
void ServiceTime::GoOnFrom(absl::Time last) {
  elapsed_at_now_ = clock_.Elapsed();
  now_ = std::max(last, clock_.Now());
}

// The wall is read first: a pause between the two must not look like a clock
// that was set back.
absl::Time ServiceTime::Now() {
  const absl::Time wall = clock_.Now();
  const absl::Duration elapsed = clock_.Elapsed();
  const absl::Time even = now_ + (elapsed - elapsed_at_now_);
  if (now_ != absl::InfinitePast()) jump_ = std::max(jump_, wall - even);
  now_ = std::max(even, wall);
  elapsed_at_now_ = elapsed;
  return now_;
}

absl::Duration ServiceTime::Behind() {
  const absl::Time now = Now();
  return now - clock_.Now();
}

absl::Duration ServiceTime::TakeJump() {
  return std::exchange(jump_, absl::ZeroDuration());
}

}  // namespace turnstone
