// How a channel fares: one that keeps failing rests for a while, so that it is
// neither hammered nor forgotten. Kept in memory only; after a restart every
// channel is tried again.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>

namespace turnstone {

// Single-thread.
class ChannelHealth {
 public:
  // What an attempt came to. A channel that refuses one message for good
  // (INVALID_ARGUMENT) is alive.
  void Take(const absl::Status& result, absl::Time now);

  [[nodiscard]] bool Rests(absl::Time now) const { return now < rests_until_; }
  [[nodiscard]] absl::Time rests_until() const { return rests_until_; }
  [[nodiscard]] int failures_in_a_row() const { return failures_in_a_row_; }
  [[nodiscard]] const std::string& last_error() const { return last_error_; }

 private:
  int failures_in_a_row_ = 0;
  absl::Time rests_until_ = absl::InfinitePast();
  std::string last_error_;
};

}  // namespace turnstone
