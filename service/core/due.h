// What is to come.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "service/core/participant.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// The questions that will be asked of the participant after `now` and by
// `until`, and may still raise an alert. Pure.
[[nodiscard]] std::vector<v1::DueEntry> DueQuestions(
    const Participant& participant, absl::Time now, absl::Time until);

// The same, and the next rung or end of hold of every open alert. Pure.
[[nodiscard]] std::vector<v1::DueItem> DueItems(Participant& participant,
                                                absl::Time now,
                                                absl::Time until);

}  // namespace turnstone
