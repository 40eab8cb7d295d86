#include "service/store/sqlite_db.h"

#include <absl/strings/str_cat.h>
#include <sqlite3.h>

#include "service/store/sqlite_error.h"
#include "service/store/sqlite_log.h"

namespace turnstone {
namespace {

// Tells how long the log is. Being SQLite's only hook of its kind, it also
// takes the place of automatic merging, whose errors SQLite keeps to itself.
int NoteLogPages(void* pages, sqlite3* /*db*/, const char* /*name*/,
                 int count) {
  *static_cast<int*>(pages) = count;
  return SQLITE_OK;
}

}  // namespace

absl::StatusOr<std::unique_ptr<Database>> Database::Open(
    const std::string& path) {
  sqlite3* db = nullptr;
  const int code = sqlite3_open_v2(
      path.c_str(), &db,
      SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE,
      nullptr);
  if (code != SQLITE_OK) {
    absl::Status error = SqliteError(code, db, path);
    sqlite3_close(db);
    return error;
  }
  return std::unique_ptr<Database>(new Database(path, db));
}

Database::Database(std::string path, sqlite3* db)
    : path_(std::move(path)), db_(db) {
  MergeOnClose(false);
  sqlite3_wal_hook(db_, &NoteLogPages, &log_pages_);
}

Database::~Database() {
  for (const auto& [sql, statement] : prepared_) sqlite3_finalize(statement);
  sqlite3_close(db_);
}

Statement Database::Prepare(const std::string& sql) {
  sqlite3_stmt*& kept = prepared_[sql];
  if (kept != nullptr) return {kept, absl::OkStatus()};
  const int code = sqlite3_prepare_v3(
      db_, sql.c_str(), -1, SQLITE_PREPARE_PERSISTENT, &kept, nullptr);
  if (code == SQLITE_OK) return {kept, absl::OkStatus()};
  return {nullptr, SqliteError(code, db_, path_)};
}

absl::Status Database::Script(const std::string& sql) {
  const int code = sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, nullptr);
  if (code == SQLITE_OK) return absl::OkStatus();
  return SqliteError(code, db_, path_);
}

absl::Status Database::InTransaction(
    const std::function<absl::Status()>& work) {
  absl::Status status = Run("BEGIN IMMEDIATE");
  if (!status.ok()) return status;
  status = work();
  if (status.ok()) status = Run("COMMIT");
  // SQLite may have rolled back by itself; then this fails, and that is fine.
  if (!status.ok()) Run("ROLLBACK").IgnoreError();
  return status;
}

bool Database::TransactionOpen() const {
  return sqlite3_get_autocommit(db_) == 0;
}

int64_t Database::RowsChanged() const { return sqlite3_changes64(db_); }

absl::Status Database::MergeLog(bool empty) {
  const int mode =
      empty ? SQLITE_CHECKPOINT_TRUNCATE : SQLITE_CHECKPOINT_PASSIVE;
  const int code =
      sqlite3_wal_checkpoint_v2(db_, "main", mode, nullptr, nullptr);
  if (code != SQLITE_OK) {
    return SqliteError(code, db_, path_, Written::kDatabase);
  }
  return empty ? SyncLog(db_, path_) : absl::OkStatus();
}

absl::Status Database::WriteLogAgain() {
  return turnstone::WriteLogAgain(db_, path_);
}

void Database::MergeOnClose(bool merge) {
  sqlite3_db_config(db_, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, merge ? 0 : 1,
                    nullptr);
}

absl::StatusOr<int64_t> ReadInt(Statement statement) {
  const absl::StatusOr<bool> found = statement.Step();
  if (!found.ok()) return found.status();
  return statement.Int(0);
}

absl::StatusOr<std::string> ReadText(Statement statement) {
  const absl::StatusOr<bool> found = statement.Step();
  if (!found.ok()) return found.status();
  return statement.Bytes(0);
}

}  // namespace turnstone
