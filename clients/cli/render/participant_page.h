// One participant: what is due, alerts, scores, and the timeline.
#pragma once

#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

// Times in the site's zone.
[[nodiscard]] std::string ParticipantPage(const v1::ParticipantView& view);

}  // namespace turnstone::cli
