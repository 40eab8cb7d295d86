// One participant on one page: timeline, scores, visits, what is due, alerts.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "service/core/participant.h"
#include "service/store/store.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// `events` are all of the participant's, by sequence. Pure.
[[nodiscard]] v1::ParticipantView ViewOf(Participant& participant,
                                         const std::vector<StoredEvent>& events,
                                         absl::Time now);

}  // namespace turnstone
