// What people do, in words: 'receive A-1 as r.sorrel clinician'.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <optional>
#include <string>

#include "turnstone/v1/service.pb.h"

namespace turnstone::scenarios {

struct WorkSentence {
  v1::WorkAlertRequest request;
  v1::Actor by;
};

// Takes "... as NAME ROLE" off the end of `sentence`; absent if it has none.
[[nodiscard]] std::optional<v1::Actor> TakeActor(std::string& sentence);

// Absent if the sentence tells of nothing that is done with an alert.
[[nodiscard]] std::optional<WorkSentence> WorkOf(const std::string& sentence,
                                                 absl::TimeZone zone);

}  // namespace turnstone::scenarios
