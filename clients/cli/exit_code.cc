#include "clients/cli/exit_code.h"

#include <absl/strings/match.h>

namespace turnstone::cli {

bool WorthRepeating(const absl::Status& status) {
  return absl::IsResourceExhausted(status) &&
         absl::StrContains(status.message(), "not accepted");
}

ExitCode ExitCodeFor(const absl::Status& status) {
  switch (status.code()) {
    case absl::StatusCode::kOk:
      return ExitCode::kDone;
    case absl::StatusCode::kInvalidArgument:
    case absl::StatusCode::kNotFound:
    case absl::StatusCode::kAlreadyExists:
    case absl::StatusCode::kPermissionDenied:
    case absl::StatusCode::kFailedPrecondition:
    case absl::StatusCode::kUnauthenticated:
      return ExitCode::kRefused;
    case absl::StatusCode::kResourceExhausted:
      return WorthRepeating(status) ? ExitCode::kRefused : ExitCode::kUnknown;
    default:
      return ExitCode::kUnknown;
  }
}

}  // namespace turnstone::cli
