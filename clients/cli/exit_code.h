// What the program tells its caller.
#pragma once

#include <absl/status/status.h>

#include <string>

namespace turnstone::cli {

enum class ExitCode : int {
  kDone = 0,
  // The service, or a check, said no. Nothing changed.
  kRefused = 1,
  // The command was not written as it must be.
  kUsage = 2,
  // The service cannot be reached, or the result is not known.
  kUnknown = 3,
};

inline const std::string kRepeatIsSafe =
    "The result is not known. Repeating the same command is safe.";

// Whether the service refused before it accepted anything, so that the same
// call may work in a moment.
[[nodiscard]] bool WorthRepeating(const absl::Status& status);

// See the table in service.proto. A code that is not in it means that the
// result is not known.
[[nodiscard]] ExitCode ExitCodeFor(const absl::Status& status);

}  // namespace turnstone::cli
