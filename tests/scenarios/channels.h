// The world outside the service in place of real channels.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "service/core/envelope.h"

namespace turnstone::scenarios {

enum class ChannelIs { kUp, kDown, kRefusing };

// What came through.
struct Sent {
  absl::Time at;
  Envelope envelope;
};

class Channels {
 public:
  // Every channel of that name, at whatever site.
  void Set(const std::string& channel, ChannelIs is) { states_[channel] = is; }

  // As Transport::Send.
  [[nodiscard]] absl::Status Send(const Envelope& envelope) {
    const std::string& channel = envelope.messages.front().channel();
    switch (states_[channel]) {
      case ChannelIs::kDown:
        return absl::UnavailableError("does not answer");
      case ChannelIs::kRefusing:
        return absl::InvalidArgumentError("does not take it");
      case ChannelIs::kUp:
        break;
    }
    sent_.push_back({envelope.now, envelope});
    return absl::OkStatus();
  }

  // What came through since this was last asked.
  [[nodiscard]] std::vector<Sent> TakeSent() {
    return std::exchange(sent_, {});
  }

 private:
  std::map<std::string, ChannelIs> states_;
  std::vector<Sent> sent_;
};

}  // namespace turnstone::scenarios
