// The proof a configuration needs before it may be put in force.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>

#include "turnstone/v1/site.pb.h"

namespace turnstone {

// What was proved, for the record: "12 properties hold in 1 953 153 cases", or
// FAILED_PRECONDITION with the properties that do not, or could not be decided.
// Ladders and rotas are looked at from `now` on. May take a minute. Pure.
// REQUIRES: `configuration` came from LoadConfiguration (complete).
[[nodiscard]] absl::StatusOr<std::string> ProofOf(
    const v1::Configuration& configuration, absl::Time now);

}  // namespace turnstone
