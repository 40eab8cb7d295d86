// Open alerts on a terminal, drawn anew as they change.
#pragma once

#include <string>

#include "clients/cli/command.h"
#include "clients/cli/stopper.h"

namespace turnstone::cli {

// Until `stopper` stops it: `console.window` is drawn when an alert changes and
// once a minute. Says so while the service does not answer, and goes on without
// a gap. `site` empty: every site.
[[nodiscard]] ExitCode FollowOnBoard(const Console& console,
                                     const Connection& connection,
                                     const std::string& site, Stopper& stopper);

}  // namespace turnstone::cli
