#include "platform/clock.h"

#include <absl/time/clock.h>

#include <ctime>

namespace turnstone {

absl::Time SystemClock::Now() const { return absl::Now(); }

absl::Duration SystemClock::Elapsed() const {
  timespec since_boot{};
  clock_gettime(CLOCK_BOOTTIME, &since_boot);
  return absl::DurationFromTimespec(since_boot);
}

SimulatedClock::SimulatedClock(absl::Time start)
    : unix_micros_(absl::ToUnixMicros(start)) {}

absl::Time SimulatedClock::Now() const {
  return absl::FromUnixMicros(unix_micros_.load());
}

absl::Duration SimulatedClock::Elapsed() const {
  return Now() - absl::UnixEpoch();
}

void SimulatedClock::MoveTo(absl::Time time) {
  const int64_t target = absl::ToUnixMicros(time);
  int64_t seen = unix_micros_.load();
  while (seen < target && !unix_micros_.compare_exchange_weak(seen, target)) {
  }
}

}  // namespace turnstone
