#include "service/core/change_hub.h"

#include <utility>

namespace turnstone {

int64_t ChangeHub::Subscribe(std::function<void()> callback) {
  const std::lock_guard<std::mutex> lock(mutex_);
  callbacks_[next_] = std::move(callback);
  return next_++;
}

void ChangeHub::Unsubscribe(int64_t subscription) {
  const std::lock_guard<std::mutex> lock(mutex_);
  callbacks_.erase(subscription);
}

void ChangeHub::Announce() {
  const std::lock_guard<std::mutex> lock(mutex_);
  for (const auto& [subscription, callback] : callbacks_) callback();
}

void ChangeHub::Close() {
  closed_.store(true);
  Announce();
}

}  // namespace turnstone
