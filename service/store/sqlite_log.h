// The write-ahead log as a file, for what SQLite does not do to it.
#pragma once

#include <absl/status/status.h>

#include <string>

struct sqlite3;

namespace turnstone {

// Writes every byte of the log once more and syncs it. A sync that failed
// leaves bytes that reads see and no later sync writes, for the system holds
// them to be written: only writing them again does.
// Errors: as SqliteError, with `path` for the database's name.
[[nodiscard]] absl::Status WriteLogAgain(sqlite3* db, const std::string& path);

// Syncs the log: SQLite does not when it cuts it to no bytes, and a power cut
// may bring back what it held.
[[nodiscard]] absl::Status SyncLog(sqlite3* db, const std::string& path);

}  // namespace turnstone
