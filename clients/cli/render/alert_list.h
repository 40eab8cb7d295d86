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

// Where there is room for a line only.
inline const std::string kShortCaution =
    "Prompts for clinical judgement: no diagnosis, no emergency service.";

// Most pressing first, then longest waiting.
void SortByPressure(std::vector<v1::Alert>& alerts);

// So that a participant's id alone does not say who it is.
[[nodiscard]] bool SeveralSites(const std::vector<v1::Alert>& alerts);

// A table under a heading for each priority; with a column for the site if
// there is more than one. `now` tells how long an open alert has waited, and
// how long it is until whoever comes next is told.
[[nodiscard]] std::string AlertTable(std::vector<v1::Alert> alerts,
                                     absl::Time now);

// One line: "#12  Wed 3 Mar 2027 14:05 GMT  A-17  stat  safety  requested ...".
[[nodiscard]] std::string AlertLine(const v1::Alert& alert);

}  // namespace turnstone::cli
