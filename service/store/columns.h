// How values are kept in columns.
#pragma once

#include <absl/status/status.h>
#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <cstdint>
#include <string>

namespace turnstone {

// Whole microseconds since the Unix epoch, rounded down; INT64_MAX and
// INT64_MIN for the infinite future and past.
[[nodiscard]] int64_t ToColumn(absl::Time time);
[[nodiscard]] absl::Time FromColumn(int64_t micros);

// Rounded up: a deadline read back is never before the one that was meant, so
// what is found due is due.
[[nodiscard]] int64_t DeadlineToColumn(absl::Time time);

// Parses the message kept in `bytes`; DATA_LOSS naming `what` if it is none.
template <typename Message>
[[nodiscard]] absl::Status ParseColumn(const std::string& bytes,
                                       const std::string& what,
                                       Message* message) {
  if (message->ParseFromString(bytes)) return absl::OkStatus();
  return absl::DataLossError(absl::StrCat(
      what,
      " in the store cannot be read: stop turnstoned, keep a copy of the "
      "folder, then restore a backup"));
}

}  // namespace turnstone
