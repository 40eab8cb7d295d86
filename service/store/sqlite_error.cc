#include "service/store/sqlite_error.h"

#include <absl/strings/str_cat.h>
#include <sqlite3.h>

#include <cerrno>

namespace turnstone {
namespace {

struct Meaning {
  absl::StatusCode code;
  const char* advice;
};

Meaning MeaningOf(int code) {
  switch (code & 0xff) {  // without SQLite's extension of the code
    case SQLITE_FULL:
      return {absl::StatusCode::kResourceExhausted,
              "the disk is full: free space"};
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
      return {absl::StatusCode::kDataLoss,
              "the file is damaged or is no database: stop turnstoned, keep a "
              "copy of the whole folder, then restore a backup"};
    case SQLITE_CANTOPEN:
    case SQLITE_PERM:
    case SQLITE_READONLY:
    case SQLITE_AUTH:
      return {absl::StatusCode::kPermissionDenied,
              "the file cannot be opened for reading and writing: give the "
              "folder and its files to the account turnstoned runs as"};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {absl::StatusCode::kFailedPrecondition,
              "another program has the file open: close it first"};
    case SQLITE_IOERR:
      return {absl::StatusCode::kUnavailable,
              "the disk could not be read or written: look at the disk and "
              "the system log, then restart turnstoned"};
    default:
      return {absl::StatusCode::kInternal,
              "this is a mistake in turnstoned: please report it"};
  }
}

// A write that a quota or the longest file allowed has stopped: SQLite gives a
// full disk a code of its own, but not these. It is the file that remembers the
// system's reason; the connection's may be that of an earlier failure.
bool IsOverQuota(int code, sqlite3* db, Written written) {
  if (code != SQLITE_IOERR_WRITE || db == nullptr) return false;
  const int which = written == Written::kLog ? SQLITE_FCNTL_JOURNAL_POINTER
                                             : SQLITE_FCNTL_FILE_POINTER;
  sqlite3_file* file = nullptr;
  sqlite3_file_control(db, "main", which, &file);
  if (file == nullptr || file->pMethods == nullptr) return false;
  int error = 0;
  file->pMethods->xFileControl(file, SQLITE_FCNTL_LAST_ERRNO, &error);
  return error == EDQUOT || error == EFBIG;
}

}  // namespace

absl::Status SqliteError(int code, sqlite3* db, const std::string& path,
                         Written written) {
  const bool full = IsOverQuota(code, db, written);
  const Meaning meaning = MeaningOf(full ? SQLITE_FULL : code);
  const char* detail =
      db != nullptr ? sqlite3_errmsg(db) : sqlite3_errstr(code);
  return {meaning.code, absl::StrCat(path, ": ", meaning.advice, " (SQLite ",
                                     code, ": ", detail, ")")};
}

}  // namespace turnstone
