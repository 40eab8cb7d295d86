// Tells whoever follows the alerts that something has changed. It carries no
// alert: a follower reads on from the position it has reached, so a slow one
// costs no memory and misses nothing.
#pragma once

#include <atomic>
#include <cstdint>
#include <functional>
#include <map>
#include <mutex>

namespace turnstone {

// Thread-safe.
class ChangeHub {
 public:
  // `callback` is called after every change, on the thread that made it, until
  // Unsubscribe returns; it must not block and must not call the hub.
  [[nodiscard]] int64_t Subscribe(std::function<void()> callback);
  void Unsubscribe(int64_t subscription);
  void Announce();
  // The service stops: announces one last time; closed() is true from then on.
  void Close();
  [[nodiscard]] bool closed() const { return closed_.load(); }

 private:
  std::atomic<bool> closed_{false};
  std::mutex mutex_;
  int64_t next_ = 1;
  std::map<int64_t, std::function<void()>> callbacks_;
};

}  // namespace turnstone
