#include "tests/faults/courier.h"

#include <algorithm>
#include <utility>

namespace turnstone::faults {

void Courier::Record(const Envelope& envelope, const absl::Status& status) {
  const CommitRound::Change change = [&](Core& core) {
    core.StageDelivery(envelope, status);
    return CommitRound::Answer([](const absl::Status& /*committed*/) {});
  };
  service_.round().Do({{change}, {}});
}

bool Courier::SendOne(const ChannelKey& channel) {
  if (!service_.runs() || underway_.contains(channel)) return false;
  const auto envelope = service_.core().NextEnvelope(channel);
  if (!envelope.ok() || !envelope->has_value()) return false;
  const Post::Result result = post_.Send(**envelope);
  if (result.takes == absl::ZeroDuration()) {
    Record(**envelope, result.status);
  } else {
    underway_[channel] = {**envelope, result.status,
                          clock_.Elapsed() + result.takes};
  }
  return true;
}

void Courier::Deliver() {
  std::vector<Underway> known;
  for (auto at = underway_.begin(); at != underway_.end();) {
    if (at->second.known_at <= clock_.Elapsed()) {
      known.push_back(at->second);
      at = underway_.erase(at);
    } else {
      ++at;
    }
  }
  for (const Underway& one : known) {
    if (service_.runs()) Record(one.envelope, one.status);
  }
  // Whatever one sending brings about may be owed by a channel looked at
  // before.
  for (bool sent = true; sent && service_.runs();) {
    sent = false;
    for (const ChannelKey& channel : service_.core().Channels()) {
      sent = SendOne(channel) || sent;
    }
  }
}

absl::Duration Courier::NextResult() const {
  absl::Duration next = absl::InfiniteDuration();
  for (const auto& [channel, one] : underway_) {
    next = std::min(next, one.known_at - clock_.Elapsed());
  }
  return next;
}

}  // namespace turnstone::faults
