// The channels outside: they take what they are given, or do not, or are slow,
// or take it and are not heard to say so.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "service/core/envelope.h"
#include "tests/faults/random.h"

namespace turnstone::faults {

class Post {
 public:
  explicit Post(Random& random) : random_(random) {}

  enum class Is { kUp, kDown, kRefusing, kSlow, kAnswerLost };
  void Set(const ChannelKey& channel, Is is) { states_[channel] = is; }
  void MendAll() { states_.clear(); }

  // What becomes of an envelope, and after how long that is known.
  struct Result {
    absl::Status status;
    absl::Duration takes;
  };
  [[nodiscard]] Result Send(const Envelope& envelope);

  // Keys of the messages that some channel took.
  [[nodiscard]] const std::set<std::string>& taken() const { return taken_; }
  [[nodiscard]] int64_t sent() const { return sent_; }

 private:
  Random& random_;
  std::map<ChannelKey, Is> states_;
  std::set<std::string> taken_;
  int64_t sent_ = 0;
};

}  // namespace turnstone::faults
