// One thread for work that takes seconds, so that neither a call's own thread
// nor the commit thread waits for it.
#pragma once

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>

namespace turnstone {

// Thread-safe.
class Background {
 public:
  Background();
  // Stops as Stop().
  ~Background();
  Background(const Background&) = delete;
  Background& operator=(const Background&) = delete;

  // Done after what was pushed before. False: it is stopping, and the work was
  // not taken.
  [[nodiscard]] bool Push(std::function<void()> work);
  // Takes nothing more, finishes what it has, ends the thread.
  void Stop();

 private:
  void Run();

  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<std::function<void()>> work_;
  bool stopping_ = false;
  std::thread thread_;
};

}  // namespace turnstone
