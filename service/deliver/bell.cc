#include "service/deliver/bell.h"

namespace turnstone {

void Bell::Ring() {
  const std::lock_guard<std::mutex> lock(mutex_);
  ++rings_;
  rung_.notify_all();
}

void Bell::Stop() {
  const std::lock_guard<std::mutex> lock(mutex_);
  stopped_ = true;
  rung_.notify_all();
}

bool Bell::stopped() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return stopped_;
}

int64_t Bell::rings() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return rings_;
}

void Bell::Wait(int64_t heard, std::chrono::milliseconds nap) {
  std::unique_lock<std::mutex> lock(mutex_);
  rung_.wait_for(lock, nap, [&] { return stopped_ || rings_ > heard; });
}

}  // namespace turnstone
