// The tables, and how an older store becomes one of today.
#pragma once

#include <absl/status/status.h>

#include "service/store/sqlite_db.h"

namespace turnstone {

// OK for an empty database and for a store this program can read.
// FAILED_PRECONDITION for a database of something else and for a store made by
// a newer program. Writes nothing.
[[nodiscard]] absl::Status CheckSchema(Database& db);

// Brings the store to today's schema, one transaction a step.
[[nodiscard]] absl::Status Migrate(Database& db);

}  // namespace turnstone
