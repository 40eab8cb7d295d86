#include <sqlite3.h>

#include <utility>

#include "service/store/sqlite_db.h"
#include "service/store/sqlite_error.h"

namespace turnstone {

Statement::Statement(sqlite3_stmt* statement, absl::Status error)
    : statement_(statement), error_(std::move(error)) {}

Statement::Statement(Statement&& other) noexcept
    : statement_(std::exchange(other.statement_, nullptr)),
      error_(std::move(other.error_)),
      bound_(other.bound_) {}

Statement::~Statement() {
  // Both do nothing for null. The reset only repeats an error Step returned.
  sqlite3_reset(statement_);
  if (statement_ != nullptr) sqlite3_clear_bindings(statement_);
}

void Statement::Bind(int64_t value) {
  if (!error_.ok()) return;
  Note(sqlite3_bind_int64(statement_, ++bound_, value));
}

void Statement::Bind(const std::string& text) {
  if (!error_.ok()) return;
  Note(sqlite3_bind_text64(statement_, ++bound_, text.data(), text.size(),
                           SQLITE_STATIC, SQLITE_UTF8));
}

void Statement::Bind(const Blob& blob) {
  if (!error_.ok()) return;
  Note(sqlite3_bind_blob64(statement_, ++bound_, blob.bytes.data(),
                           blob.bytes.size(), SQLITE_STATIC));
}

void Statement::Note(int code) {
  if (code == SQLITE_OK) return;
  sqlite3* db = sqlite3_db_handle(statement_);
  error_ = SqliteError(code, db, sqlite3_db_filename(db, "main"));
}

absl::StatusOr<bool> Statement::Step() {
  if (!error_.ok()) return error_;
  const int code = sqlite3_step(statement_);
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  Note(code);
  return error_;
}

int64_t Statement::Int(int column) const {
  return sqlite3_column_int64(statement_, column);
}

std::string Statement::Bytes(int column) const {
  const void* bytes = sqlite3_column_blob(statement_, column);
  if (bytes == nullptr) return "";  // SQLite's way of giving an empty value
  const int size = sqlite3_column_bytes(statement_, column);
  return {static_cast<const char*>(bytes), static_cast<size_t>(size)};
}

bool Statement::IsNull(int column) const {
  return sqlite3_column_type(statement_, column) == SQLITE_NULL;
}

}  // namespace turnstone
