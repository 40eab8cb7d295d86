// The store of a single machine: one SQLite file.
#pragma once

#include <absl/status/statusor.h>

#include <memory>
#include <string>

#include "service/store/store.h"

namespace turnstone {

// Opens the store in `folder`, making it if there is none (the folder's parent
// must exist). While it is open no one else can open it. Times are kept in
// whole microseconds: rounded down, but next_due rounded up.
//
// A Commit that found the disk full has changed nothing, and the store may be
// used on: nothing of it was synced. After any other failed Commit the store
// refuses every call with UNAVAILABLE and touches the disk no more: a sync that
// failed once proves nothing when it succeeds the second time. Restart, and
// Recover tells what was kept.
//
//   FAILED_PRECONDITION  another turnstoned has it, a newer one wrote it, or
//                        the file is some other program's
//   DATA_LOSS            damaged; RESOURCE_EXHAUSTED: disk full
//   PERMISSION_DENIED, NOT_FOUND, UNAVAILABLE, INTERNAL: as the message says
[[nodiscard]] absl::StatusOr<std::unique_ptr<Store>> OpenSqliteStore(
    const std::string& folder);

}  // namespace turnstone
