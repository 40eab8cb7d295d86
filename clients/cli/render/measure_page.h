// Scores, change and trend of everybody a file is about.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/measure.pb.h"

namespace turnstone::cli {

// A section for each participant, and the caution at the end. Days as they are
// in `time_zone`, an IANA name.
[[nodiscard]] std::string MeasurePage(
    const std::vector<v1::MeasuredParticipant>& participants,
    const std::string& time_zone);

}  // namespace turnstone::cli
