// The way out of the service.
#pragma once

#include <absl/status/status.h>

#include "service/core/envelope.h"

namespace turnstone {

// Thread-safe.
class Transport {
 public:
  virtual ~Transport() = default;
  // OK: the channel has taken it. INVALID_ARGUMENT: it refused this envelope
  // for good, and trying again is of no use. Anything else: try again later;
  // whether it was taken is not known. Blocks, for at most a minute. The
  // message says what the channel answered, never a secret.
  [[nodiscard]] virtual absl::Status Send(const Envelope& envelope) = 0;
};

}  // namespace turnstone
