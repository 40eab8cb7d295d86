#include "service/store/sqlite_log.h"

#include <sqlite3.h>

#include <algorithm>
#include <vector>

#include "service/store/sqlite_error.h"

namespace turnstone {
namespace {

constexpr sqlite3_int64 kPiece = 1 << 16;  // bytes

// Null where there is no log yet.
sqlite3_file* LogFile(sqlite3* db) {
  sqlite3_file* file = nullptr;
  sqlite3_file_control(db, "main", SQLITE_FCNTL_JOURNAL_POINTER, &file);
  return file == nullptr || file->pMethods == nullptr ? nullptr : file;
}

int WriteAgain(sqlite3_file* file) {
  sqlite3_int64 size = 0;
  int code = file->pMethods->xFileSize(file, &size);
  std::vector<char> piece(kPiece);
  for (sqlite3_int64 at = 0; code == SQLITE_OK && at < size; at += kPiece) {
    const int length = static_cast<int>(std::min(kPiece, size - at));
    code = file->pMethods->xRead(file, piece.data(), length, at);
    if (code != SQLITE_OK) break;
    code = file->pMethods->xWrite(file, piece.data(), length, at);
  }
  return code;
}

absl::Status Sync(sqlite3_file* file, const std::string& path) {
  const int code = file->pMethods->xSync(file, SQLITE_SYNC_NORMAL);
  return code == SQLITE_OK ? absl::OkStatus()
                           : SqliteError(code, nullptr, path);
}

}  // namespace

absl::Status WriteLogAgain(sqlite3* db, const std::string& path) {
  sqlite3_file* file = LogFile(db);
  if (file == nullptr) return absl::OkStatus();
  const int code = WriteAgain(file);
  return code == SQLITE_OK ? Sync(file, path)
                           : SqliteError(code, nullptr, path);
}

absl::Status SyncLog(sqlite3* db, const std::string& path) {
  sqlite3_file* file = LogFile(db);
  return file == nullptr ? absl::OkStatus() : Sync(file, path);
}

}  // namespace turnstone
