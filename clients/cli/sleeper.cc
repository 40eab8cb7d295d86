#include "clients/cli/sleeper.h"

#include <algorithm>

namespace turnstone::cli {

void RealSleeper::Sleep(absl::Duration pause) {
  std::unique_lock lock(mutex_);
  changed_.wait_for(lock, absl::ToChronoNanoseconds(pause),
                    [this] { return awake_; });
}

void RealSleeper::Wake() {
  const std::lock_guard lock(mutex_);
  awake_ = true;
  changed_.notify_all();
}

absl::Duration PauseBefore(int number) {
  const int doublings = std::clamp(number - 2, 0, 5);
  return std::min(absl::Seconds(1 << doublings), absl::Seconds(30));
}

}  // namespace turnstone::cli
