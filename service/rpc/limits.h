// How much one caller may ask for: so that one who asks without end, by mistake
// or ill will, takes nothing from the others.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <array>
#include <cstddef>
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "platform/clock.h"

namespace turnstone {

// What the limits tell apart.
enum class CallKind { kChange, kRead, kSubmitStream, kReadStream };

struct Limit {
  // Calls begun: so many a second in the long run, and so many at once after a
  // while without any.
  double per_second;
  double at_first;
  // Calls begun and not over. One that was answered counts a moment longer.
  int at_once;
};

// By CallKind. Common practice, no source: many times what a programme of a
// few thousand participants asks for. They do not hold up an outage's backlog:
// that comes by SubmitStream, where each event waits for its turn instead of
// being refused.
using LimitTable = std::array<Limit, 4>;
inline constexpr LimitTable kUsualLimits = {{
    {.per_second = 1000, .at_first = 10000, .at_once = 512},
    {.per_second = 500, .at_first = 5000, .at_once = 512},
    {.per_second = 2, .at_first = 100, .at_once = 16},
    {.per_second = 10, .at_first = 400, .at_once = 128},
}};

// Thread-safe.
class Limits {
 public:
  // `clock` outlives this, and the time that counts is Elapsed().
  explicit Limits(const Clock& clock, const LimitTable& table = kUsualLimits)
      : clock_(clock), table_(table) {}

  // A call under way; it is over once the last copy is gone, which must be
  // before the Limits are.
  using Pass = std::shared_ptr<const void>;

  struct Answer {
    Pass pass;            // null: not now
    absl::Duration wait;  // then: when to try again
  };
  // Whether `source` may begin one more call. A refused one counts for nothing.
  [[nodiscard]] Answer Begin(const std::string& source, CallKind kind);

  // As Clock::Elapsed.
  [[nodiscard]] absl::Duration Elapsed() const { return clock_.Elapsed(); }
  // Sources that are remembered.
  [[nodiscard]] size_t sources() const;

 private:
  struct Use {
    int under_way = 0;
    double left = 0;  // calls that may begin now
    absl::Duration as_of;
  };
  using Uses = std::array<Use, 4>;

  void End(const std::string& source, size_t kind);
  // The next four need mutex_.
  Uses& UsesOf(const std::string& source, absl::Duration now);
  void Refill(Uses& uses, absl::Duration now) const;
  [[nodiscard]] bool IsAtRest(const Uses& uses) const;
  void ForgetThoseAtRest(absl::Duration now);

  const Clock& clock_;
  const LimitTable table_;
  mutable std::mutex mutex_;
  std::map<std::string, Uses> uses_;
  // How many there may be before it is looked who can be forgotten.
  size_t look_at_ = 1024;
};

}  // namespace turnstone
