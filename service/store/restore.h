// Making a backup the store of a folder of its own.
#pragma once

#include <absl/status/status.h>

#include <string>

namespace turnstone {

// Copies the backup `from` into `folder`, which must be new (its parent must
// exist) or empty, and syncs it. The backup stays as it is.
//   NOT_FOUND            there is no such backup
//   FAILED_PRECONDITION  the folder is not empty, or `from` is no backup but
//                        the file of a service, without whose log it is not
//                        whole
//   and errors of the disk, with the path and what to do
[[nodiscard]] absl::Status CopyBackupInto(const std::string& from,
                                          const std::string& folder);

// Takes away again what CopyBackupInto put there, and what came beside it.
// REQUIRES: the store is closed.
void RemoveRestored(const std::string& folder);

}  // namespace turnstone
