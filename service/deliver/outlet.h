// The core as those who carry its messages see it.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <optional>
#include <vector>

#include "service/core/envelope.h"

namespace turnstone {

// Thread-safe; every call blocks until it is answered. An error: nothing was
// done; ask again later.
class Outlet {
 public:
  virtual ~Outlet() = default;
  // All that are configured.
  [[nodiscard]] virtual absl::StatusOr<std::vector<ChannelKey>> Channels() = 0;
  // What is due on the channel now; absent if nothing is.
  [[nodiscard]] virtual absl::StatusOr<std::optional<Envelope>> Next(
      const ChannelKey& channel) = 0;
  // What became of the envelope; OK once that is durable, or, on a full disk,
  // kept in mind until it can be.
  [[nodiscard]] virtual absl::Status Record(const Envelope& envelope,
                                            const absl::Status& result) = 0;
};

}  // namespace turnstone
