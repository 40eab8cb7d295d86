#include "tests/faults/post.h"

namespace turnstone::faults {

Post::Result Post::Send(const Envelope& envelope) {
  // As service/deliver/: what goes to nobody cannot be sent at all.
  if (envelope.channel.by_case() == v1::Channel::BY_NOT_SET) {
    return {absl::InvalidArgumentError("goes to nobody"), {}};
  }
  const Is is = states_[{envelope.site, envelope.channel.id()}];
  if (is == Is::kDown) return {absl::UnavailableError("does not answer"), {}};
  if (is == Is::kRefusing) {
    return {absl::InvalidArgumentError("does not take it"), {}};
  }
  ++sent_;
  for (const v1::OwedMessage& message : envelope.messages) {
    taken_.insert(message.key());
  }
  if (is == Is::kAnswerLost) {
    return {absl::UnavailableError("no answer came"), absl::Seconds(20)};
  }
  if (is == Is::kSlow) {
    return {absl::OkStatus(), absl::Seconds(random_.Between(1, 300))};
  }
  return {absl::OkStatus(), {}};
}

}  // namespace turnstone::faults
