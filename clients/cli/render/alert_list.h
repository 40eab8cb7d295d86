// Alerts as a list, what cannot wait on top.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {

inline const std::string kCaution =
    "A prompt for clinical judgement, not a diagnosis and not an emergency "
    "service. Follow your site's protocol and the law where you are. In "
    "immediate danger call the local emergency number.";

// Not yet completed, cancelled or entered in error.
[[nodiscard]] bool IsOpen(const v1::Alert& alert);

// Only missing information, no answer of true, stands behind the alert.
[[nodiscard]] bool IsUnknown(const v1::Alert& alert);

// What a reader must know besides the columns, in plain words:
// "must be closed by a person", ...
[[nodiscard]] std::vector<std::string> Marks(const v1::Alert& alert);

// A table under a heading for each priority; with a column for the site if
// there is more than one. `now` tells how long an open alert has waited.
[[nodiscard]] std::string AlertTable(std::vector<v1::Alert> alerts,
                                     absl::Time now);

// One line: "#12  Wed 3 Mar 2027 14:05 GMT  A-17  stat  safety  requested ...".
[[nodiscard]] std::string AlertLine(const v1::Alert& alert);

}  // namespace turnstone::cli
