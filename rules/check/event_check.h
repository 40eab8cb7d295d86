// The shape of a single event, before anything is known of the participant.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include "rules/engine/setup.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// OK, or INVALID_ARGUMENT naming the field as it is written in JSON (e.g.
// "screeningResult.answers[2].answer"), what is wrong with it, and what to
// send instead; NOT_FOUND for an unknown site. Never repeats an answer or a
// score in the message. Pure.
[[nodiscard]] absl::Status CheckEvent(const v1::Event& event,
                                      const Setup& setup, absl::Time now);

// The same for whoever knows no sites: `event.site` is not looked at.
[[nodiscard]] absl::Status CheckEventContent(const v1::Event& event,
                                             const Catalogue& catalogue,
                                             absl::Time now);

}  // namespace turnstone
