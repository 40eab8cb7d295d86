// SQLite's switches as this store needs them. Each is set, read back, and
// refused with INTERNAL if it is not in force: SQLite ignores some silently.
#pragma once

#include <absl/status/status.h>

#include "service/store/sqlite_db.h"

namespace turnstone {

// Those that write nothing to the file; to be first on a new connection.
[[nodiscard]] absl::Status SetConnectionPragmas(Database& db);

// Those of the write-ahead log, which change the file.
[[nodiscard]] absl::Status SetLogPragmas(Database& db);

}  // namespace turnstone
