// The tables, and how an older store becomes one of today.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <cstdint>

#include "service/store/sqlite_db.h"

namespace turnstone {

// OK for an empty database and for a store this program can read.
// FAILED_PRECONDITION for a database of something else and for a store made by
// a newer program. Writes nothing.
[[nodiscard]] absl::Status CheckSchema(Database& db);

// Of the database; 0 for an empty one.
[[nodiscard]] absl::StatusOr<int64_t> SchemaVersion(Database& db);
[[nodiscard]] int64_t SchemaToday();

// Brings the store to today's schema, one transaction a step.
[[nodiscard]] absl::Status Migrate(Database& db);

}  // namespace turnstone
