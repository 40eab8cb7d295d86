// Time as the service sees it. Everything that needs the time takes a Clock,
// so tests and demos decide what time it is.
#pragma once

#include <absl/time/time.h>

#include <atomic>

namespace turnstone {

// Thread-safe.
class Clock {
 public:
  virtual ~Clock() = default;
  // Wall time; may be set, forwards and backwards.
  [[nodiscard]] virtual absl::Time Now() const = 0;
  // Since a moment that stays the same while the program runs. Goes on evenly,
  // also while the machine sleeps or its wall time is set.
  [[nodiscard]] virtual absl::Duration Elapsed() const = 0;
};

// The machine's clock.
class SystemClock final : public Clock {
 public:
  [[nodiscard]] absl::Time Now() const override;
  [[nodiscard]] absl::Duration Elapsed() const override;
};

// Stands still until moved. Thread-safe; never goes backwards.
class SimulatedClock final : public Clock {
 public:
  explicit SimulatedClock(absl::Time start);
  [[nodiscard]] absl::Time Now() const override;
  [[nodiscard]] absl::Duration Elapsed() const override;
  // Moves to `time` if that is later than now.
  void MoveTo(absl::Time time);

 private:
  std::atomic<int64_t> unix_micros_;
};

}  // namespace turnstone
