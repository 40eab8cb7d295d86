#include "service/core/channel_health.h"

#include <algorithm>

namespace turnstone {
namespace {

// Common practice, no source: a few failures may be the messages' own.
constexpr int kFailuresBeforeRest = 3;
constexpr absl::Duration kFirstRest = absl::Minutes(1);
constexpr absl::Duration kLongestRest = absl::Minutes(5);

}  // namespace

void ChannelHealth::Take(const absl::Status& result, absl::Time now) {
  if (result.ok() || absl::IsInvalidArgument(result)) {
    *this = ChannelHealth();
    return;
  }
  ++failures_in_a_row_;
  last_error_ = std::string(result.message());
  const int beyond = failures_in_a_row_ - kFailuresBeforeRest;
  if (beyond < 0) return;
  rests_until_ = now + std::min(kLongestRest, kFirstRest * (beyond + 1));
}

}  // namespace turnstone
