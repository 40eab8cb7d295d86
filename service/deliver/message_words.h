// Parts of a message's wording that e-mail and webhook share. Pure.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "service/core/envelope.h"

namespace turnstone {

// "stat"; "not stated" for the unspecified value.
[[nodiscard]] std::string PriorityWord(v1::Priority priority);

// The command that shows what the message is of: "turnstone alert A-17", or
// "turnstone handover".
[[nodiscard]] std::string OpenCommand(const v1::OwedMessage& message);

// Whether the envelope is somebody's daily message.
[[nodiscard]] bool IsDaily(const Envelope& envelope);

// When whoever comes next is told; the infinite future where nobody is.
[[nodiscard]] absl::Time DeadlineOf(const v1::OwedMessage& message);

// Of two alike, the one with the earlier deadline comes first.
[[nodiscard]] std::vector<v1::OwedMessage> MostPressingFirst(
    std::vector<v1::OwedMessage> messages);

}  // namespace turnstone
