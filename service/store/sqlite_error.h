// What went wrong in SQLite, in words for the person who must act.
#pragma once

#include <absl/status/status.h>

#include <string>

struct sqlite3;

namespace turnstone {

// What a transaction writes to, and what merging the log does.
enum class Written { kLog, kDatabase };

// Status for SQLite's result `code`, which must be an error. `db` may be null;
// it adds SQLite's own text. `path` names the file in the message.
//   RESOURCE_EXHAUSTED   the disk is full, or a quota on it is used up
//   DATA_LOSS            the file is damaged or is no database
//   PERMISSION_DENIED    it may not be opened or written
//   FAILED_PRECONDITION  another program has it open
//   UNAVAILABLE          reading or writing failed
//   INTERNAL             anything else: a mistake in the program
[[nodiscard]] absl::Status SqliteError(int code, sqlite3* db,
                                       const std::string& path,
                                       Written written = Written::kLog);

}  // namespace turnstone
