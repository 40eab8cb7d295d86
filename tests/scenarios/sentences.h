// Events in words: "phq-9 14, self-harm item 1", "visit-2 no answer".
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <optional>
#include <string>

#include "turnstone/v1/event.pb.h"

namespace turnstone::scenarios {

// "2027-03-28 09:00" on the clocks of `zone`, read as RFC 5545 says where a
// clock change skips or repeats it. INVALID_ARGUMENT if it is none.
[[nodiscard]] absl::StatusOr<absl::Time> ReadLocal(const std::string& text,
                                                   absl::TimeZone zone);

// The event that `sentence` tells of, without site and participant. `last`: the
// participant's event before, for "the last one was ..." and "the last one
// never happened". INVALID_ARGUMENT if the sentence is not understood.
[[nodiscard]] absl::StatusOr<v1::Event> EventOf(
    const std::string& sentence, const std::string& id, absl::Time when,
    absl::TimeZone zone, const std::optional<v1::Event>& last);

}  // namespace turnstone::scenarios
