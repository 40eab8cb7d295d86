#include "tests/bench/sqlite_file.h"

#include <cstdio>
#include <cstdlib>

namespace turnstone {
namespace {

constexpr int kMergeLogFromPages = 4000;
constexpr char kSettings[] =
    "PRAGMA locking_mode = EXCLUSIVE; PRAGMA synchronous = FULL;"
    "PRAGMA foreign_keys = ON; PRAGMA temp_store = MEMORY;"
    "PRAGMA secure_delete = ON; PRAGMA cell_size_check = ON; PRAGMA "
    "journal_mode = WAL;"
    "PRAGMA journal_size_limit = 16777216; PRAGMA cache_size = -65536;";

int NotePages(void* pages, sqlite3* /*db*/, const char* /*name*/, int count) {
  *static_cast<int*>(pages) = count;
  return SQLITE_OK;
}

void Bind(sqlite3_stmt* statement, int place, const Value& value) {
  if (const auto* number = std::get_if<int64_t>(&value)) {
    sqlite3_bind_int64(statement, place, *number);
  } else if (const auto* text = std::get_if<std::string>(&value)) {
    sqlite3_bind_text(statement, place, text->data(),
                      static_cast<int>(text->size()), SQLITE_STATIC);
  } else if (const auto* blob = std::get_if<Bytes>(&value)) {
    sqlite3_bind_blob(statement, place, blob->bytes.data(),
                      static_cast<int>(blob->bytes.size()), SQLITE_STATIC);
  } else {
    sqlite3_bind_null(statement, place);
  }
}

Value Column(sqlite3_stmt* statement, int column) {
  const int type = sqlite3_column_type(statement, column);
  if (type == SQLITE_NULL) return {};
  if (type == SQLITE_INTEGER) return sqlite3_column_int64(statement, column);
  const auto* bytes =
      static_cast<const char*>(sqlite3_column_blob(statement, column));
  const auto size =
      static_cast<size_t>(sqlite3_column_bytes(statement, column));
  std::string content = size == 0 ? "" : std::string(bytes, size);
  if (type == SQLITE_BLOB) return Bytes{std::move(content)};
  return content;
}

}  // namespace

SqliteFile::SqliteFile(const std::string& path) {
  Check(sqlite3_open_v2(
      path.c_str(), &db_,
      SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX,
      nullptr));
  Script(kSettings);
  sqlite3_wal_hook(db_, &NotePages, &log_pages_);
  commit_ = Prepare("COMMIT");
}

SqliteFile::~SqliteFile() {
  for (sqlite3_stmt* statement : prepared_) sqlite3_finalize(statement);
  sqlite3_close(db_);
}

void SqliteFile::Check(int code) {
  if (code == SQLITE_OK || code == SQLITE_DONE || code == SQLITE_ROW) return;
  std::fprintf(stderr, "bench: SQLite: %s\n", sqlite3_errmsg(db_));
  std::abort();
}

void SqliteFile::Script(const std::string& sql) {
  Check(sqlite3_exec(db_, sql.c_str(), nullptr, nullptr, nullptr));
}

sqlite3_stmt* SqliteFile::Prepare(const std::string& sql) {
  sqlite3_stmt* statement = nullptr;
  Check(sqlite3_prepare_v3(db_, sql.c_str(), -1, SQLITE_PREPARE_PERSISTENT,
                           &statement, nullptr));
  prepared_.push_back(statement);
  return statement;
}

void SqliteFile::Run(sqlite3_stmt* statement, const Values& values) {
  (void)Rows(statement, values);
}

std::vector<Values> SqliteFile::Rows(sqlite3_stmt* statement,
                                     const Values& values) {
  int place = 0;
  for (const Value& value : values) Bind(statement, ++place, value);
  std::vector<Values> rows;
  int code = sqlite3_step(statement);
  for (; code == SQLITE_ROW; code = sqlite3_step(statement)) {
    Values& row = rows.emplace_back();
    for (int i = 0; i < sqlite3_column_count(statement); ++i) {
      row.push_back(Column(statement, i));
    }
  }
  Check(code);
  sqlite3_reset(statement);
  return rows;
}

int64_t SqliteFile::Number(const std::string& sql) {
  return std::get<int64_t>(Rows(Prepare(sql))[0][0]);
}

void SqliteFile::Commit() {
  Run(commit_, {});
  if (log_pages_ < kMergeLogFromPages) return;
  Check(sqlite3_wal_checkpoint_v2(db_, "main", SQLITE_CHECKPOINT_PASSIVE,
                                  nullptr, nullptr));
}

}  // namespace turnstone
