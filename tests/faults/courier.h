// Takes what is owed to the channels outside and brings back what came of it,
// as service/deliver/ does, one envelope of a channel at a time.
#pragma once

#include <absl/time/time.h>

#include <map>

#include "tests/faults/post.h"
#include "tests/faults/service.h"

namespace turnstone::faults {

class Courier {
 public:
  Courier(Service& service, Post& post, const SimClock& clock)
      : service_(service), post_(post), clock_(clock) {}

  // Sends all that is to be sent now; records all that is known by now.
  void Deliver();
  // How long until something under way is known; infinite if nothing is.
  [[nodiscard]] absl::Duration NextResult() const;
  // The service is gone, and with it what was under way.
  void Forget() { underway_.clear(); }

 private:
  struct Underway {
    Envelope envelope;
    absl::Status status;
    absl::Duration known_at;  // as Clock::Elapsed
  };
  void Record(const Envelope& envelope, const absl::Status& status);
  [[nodiscard]] bool SendOne(const ChannelKey& channel);

  Service& service_;
  Post& post_;
  const SimClock& clock_;
  std::map<ChannelKey, Underway> underway_;
};

}  // namespace turnstone::faults
