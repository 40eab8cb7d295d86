// Wakes threads that wait for news.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <mutex>

namespace turnstone {

// Thread-safe.
class Bell {
 public:
  void Ring();
  // Every wait ends, now and from now on.
  void Stop();
  [[nodiscard]] bool stopped() const;
  // How often it has rung. Ask before looking for work, so that what comes
  // meanwhile is not missed.
  [[nodiscard]] int64_t rings() const;
  // Until it has rung more than `heard` times, `nap` is over, or it stops.
  void Wait(int64_t heard, std::chrono::milliseconds nap);

 private:
  mutable std::mutex mutex_;
  std::condition_variable rung_;
  int64_t rings_ = 0;
  bool stopped_ = false;
};

}  // namespace turnstone
