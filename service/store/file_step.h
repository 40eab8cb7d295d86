// Steps with files whose failure must be told, in words for the person who
// must act.
#pragma once

#include <absl/status/status.h>

#include <string>

namespace turnstone {

// Status for `error`, an errno, met while doing `what` to `path`.
[[nodiscard]] absl::Status FileError(const std::string& what,
                                     const std::string& path, int error);

// Makes what is in the file survive a power cut.
[[nodiscard]] absl::Status SyncFile(const std::string& path);

// Makes the names inside `folder` survive a power cut.
[[nodiscard]] absl::Status SyncFolder(const std::string& folder);

}  // namespace turnstone
