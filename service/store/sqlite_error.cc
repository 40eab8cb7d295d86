#include "service/store/sqlite_error.h"

#include <absl/strings/str_cat.h>
#include <sqlite3.h>

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
              "the disk is full: free space, then restart turnstoned"};
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

}  // namespace

absl::Status SqliteError(int code, sqlite3* db, const std::string& path) {
  const Meaning meaning = MeaningOf(code);
  const char* detail =
      db != nullptr ? sqlite3_errmsg(db) : sqlite3_errstr(code);
  return {meaning.code, absl::StrCat(path, ": ", meaning.advice, " (SQLite ",
                                     code, ": ", detail, ")")};
}

}  // namespace turnstone
