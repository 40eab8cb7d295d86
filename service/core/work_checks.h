// What every piece of work on an alert must satisfy.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "service/core/work.h"

namespace turnstone {

// FAILED_PRECONDITION, saying how it ended, unless the alert is open.
[[nodiscard]] absl::Status RequireOpen(const v1::Alert& alert);

// INVALID_ARGUMENT if it is too long.
[[nodiscard]] absl::Status CheckNote(const std::string& field,
                                     const std::string& note);

// The same, or if it is empty; `what` says what it is to tell.
[[nodiscard]] absl::Status RequireNote(const std::string& field,
                                       const std::string& note,
                                       const std::string& what);

// INVALID_ARGUMENT, naming the site's outcomes, unless it is one of them.
[[nodiscard]] absl::Status RequireOutcome(const std::string& outcome,
                                          const v1::Alert& alert,
                                          const Site& site);

// FAILED_PRECONDITION if somebody else has it and there is no note that says
// why it is taken over.
[[nodiscard]] absl::Status CheckTakeOver(const v1::Actor& by,
                                         const std::string& note,
                                         const v1::Alert& alert);

}  // namespace turnstone
