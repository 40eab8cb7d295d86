// Alerts in lines.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::scenarios {

// The whole story.
[[nodiscard]] std::vector<std::string> AlertLines(const v1::Alert& alert);

// "A-1 stat: self-harm-positive of p-03, with r.sorrel (received)".
[[nodiscard]] std::string AlertLine(const v1::Alert& alert, bool with_site);

}  // namespace turnstone::scenarios
