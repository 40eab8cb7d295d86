// Events for a replay, from a file or from the service.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <string>

#include "clients/cli/command.h"
#include "rules/engine/setup.h"
#include "rules/replay/replay.h"

namespace turnstone::cli {

struct ReplaySides {
  const Setup& before;
  const Setup& after;
  // Of both. Events of other sites are passed over.
  std::string site;
};

// Lines as `submit` takes them, each recorded when it happened, or when the one
// before was if that is later; an event that comes again has no effect. What
// the service would refuse is told on `console` with its line. Returns how
// many those are; INVALID_ARGUMENT if the file cannot be read.
[[nodiscard]] absl::StatusOr<int> ReplayFile(const Console& console,
                                             const std::string& path,
                                             const ReplaySides& sides,
                                             Replay& replay);

// Everything the service has recorded. Errors as the service's.
[[nodiscard]] absl::Status ReplayRecorded(const Console& console,
                                          const Connection& connection,
                                          const std::string& site,
                                          Replay& replay);

}  // namespace turnstone::cli
