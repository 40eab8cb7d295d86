// Open alerts at a glance, a line each, for a window left open.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "clients/cli/window.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {

// What cannot wait on top; as many alerts as the window holds, and how many
// more there are. At most `window.rows` lines, if there are 5 or more, none
// wider than `window.columns`; no newline after the last. `notice`, if any,
// stands above all. Bold and reverse only repeat what words and marks say.
[[nodiscard]] std::string Board(std::vector<v1::Alert> open, absl::Time now,
                                const Window& window,
                                const std::string& notice = "");

// Whether to make a sound: a stat alert has appeared, or somebody was told of
// one that nobody has received. `before`: as it stood on the board, or null.
[[nodiscard]] bool Rings(const v1::Alert* before, const v1::Alert& after);

}  // namespace turnstone::cli
