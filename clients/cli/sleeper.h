// Pausing, injected so that tests never wait.
#pragma once

#include <absl/time/time.h>

#include <condition_variable>
#include <mutex>

namespace turnstone::cli {

class Sleeper {
 public:
  virtual ~Sleeper() = default;
  virtual void Sleep(absl::Duration pause) = 0;
  // Ends the pause going on and every later one. Thread-safe.
  virtual void Wake() = 0;
};

class RealSleeper final : public Sleeper {
 public:
  void Sleep(absl::Duration pause) override;
  void Wake() override;

 private:
  std::mutex mutex_;
  std::condition_variable changed_;
  bool awake_ = false;
};

// The pause before attempt `number` (from 2): 1, 2, 4 ... at most 30 seconds.
[[nodiscard]] absl::Duration PauseBefore(int number);

}  // namespace turnstone::cli
