// What a replay is to compare: configurations, a site, and a time.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>
#include <vector>

#include "clients/cli/command.h"
#include "rules/engine/setup.h"
#include "rules/replay/replay.h"

namespace turnstone::cli {

// A checked configuration from files; findings are told on `console`. Errors
// begin with `option` and say what to write.
[[nodiscard]] absl::StatusOr<v1::Configuration> ReadChecked(
    const Console& console, const std::string& option,
    const std::vector<std::string>& paths);

// The same, whole: there are sites among them.
[[nodiscard]] absl::StatusOr<v1::Configuration> ReadWhole(
    const Console& console, const std::string& option,
    const std::vector<std::string>& paths);

// The site asked for, or the only one of `after`. INVALID_ARGUMENT unless it is
// in both.
[[nodiscard]] absl::StatusOr<std::string> ChooseSite(const std::string& asked,
                                                     const Setup& before,
                                                     const Setup& after);

// From the beginning of day `first` to that of day `last`, and no further than
// `end`: what has not happened yet cannot be known. Either may be empty.
[[nodiscard]] absl::StatusOr<ReplayWindow> ParseReplayWindow(
    const std::string& first, const std::string& last, absl::Time end,
    absl::TimeZone zone);

}  // namespace turnstone::cli
