// Time as the service sees it. Everything that needs the time takes a Clock,
// so tests and demos decide what time it is.
#pragma once

#include <absl/time/time.h>

#include <atomic>

namespace turnstone {

// Wall time. Thread-safe.
class Clock {
 public:
  virtual ~Clock() = default;
  [[nodiscard]] virtual absl::Time Now() const = 0;
};

// The machine's clock.
class SystemClock final : public Clock {
 public:
  [[nodiscard]] absl::Time Now() const override;
};

// Stands still until moved. Thread-safe; never goes backwards.
class SimulatedClock final : public Clock {
 public:
  explicit SimulatedClock(absl::Time start);
  [[nodiscard]] absl::Time Now() const override;
  // Moves to `time` if that is later than now.
  void MoveTo(absl::Time time);

 private:
  std::atomic<int64_t> unix_micros_;
};

}  // namespace turnstone
