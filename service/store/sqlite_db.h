// One SQLite connection and its statements, with absl::Status for errors.
//
// Single-thread.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <unordered_map>
#include <utility>
#include <vector>

struct sqlite3;
struct sqlite3_stmt;

namespace turnstone {

// Bytes for a BLOB column; a plain string is bound as TEXT.
struct Blob {
  std::string bytes;
};

// A statement being run. Going out of scope readies it for its next use.
class Statement {
 public:
  // `statement` is null if `error` is not OK; Step then returns `error`.
  Statement(sqlite3_stmt* statement, absl::Status error);
  Statement(Statement&& other) noexcept;
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;
  Statement& operator=(Statement&&) = delete;
  ~Statement();

  // Gives the next parameter its value, which must stay where it is while the
  // statement is in use; errors come out of Step.
  void Bind(int64_t value);
  void Bind(const std::string& text);
  void Bind(const Blob& blob);

  // True: on a row. False: done.
  [[nodiscard]] absl::StatusOr<bool> Step();

  // Columns of the row Step is on, from 0. The type is not checked: the tables
  // are STRICT.
  [[nodiscard]] int64_t Int(int column) const;
  [[nodiscard]] std::string Bytes(int column) const;
  [[nodiscard]] bool IsNull(int column) const;

 private:
  void Note(int code);

  sqlite3_stmt* statement_;
  absl::Status error_;
  int bound_ = 0;
};

class Database {
 public:
  // Opens a file that exists. Nothing is read from it yet.
  [[nodiscard]] static absl::StatusOr<std::unique_ptr<Database>> Open(
      const std::string& path);
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;
  // Leaves the write-ahead log where it is, unless MergeOnClose(true) was the
  // last word.
  ~Database();

  [[nodiscard]] const std::string& path() const { return path_; }
  [[nodiscard]] sqlite3* handle() { return db_; }

  // The statement with its parameters bound. REQUIRES: no Statement of the
  // same text is in scope, since compiled statements are kept and used again;
  // the parameters outlive it.
  template <typename... Parameters>
  [[nodiscard]] Statement Query(const std::string& sql,
                                const Parameters&... parameters) {
    Statement statement = Prepare(sql);
    (statement.Bind(parameters), ...);
    return statement;
  }

  // Runs a statement whose rows, if any, do not matter.
  template <typename... Parameters>
  [[nodiscard]] absl::Status Run(const std::string& sql,
                                 const Parameters&... parameters) {
    return Query(sql, parameters...).Step().status();
  }

  // Runs several statements, without parameters.
  [[nodiscard]] absl::Status Script(const std::string& sql);

  // Runs `work` in a write transaction: all of it takes effect, or none.
  [[nodiscard]] absl::Status InTransaction(
      const std::function<absl::Status()>& work);

  // Whether a transaction is open: after one that failed, it could not be
  // rolled back.
  [[nodiscard]] bool TransactionOpen() const;

  // Rows written by the last statement.
  [[nodiscard]] int64_t RowsChanged() const;

  // Pages in the write-ahead log after the last transaction.
  [[nodiscard]] int log_pages() const { return log_pages_; }

  // Copies the write-ahead log into the database file and syncs it. `empty`:
  // also cuts the log to no bytes, for good.
  [[nodiscard]] absl::Status MergeLog(bool empty);

  // Writes the write-ahead log once more, byte for byte, and syncs it.
  [[nodiscard]] absl::Status WriteLogAgain();

  // Whether closing merges the write-ahead log and removes it.
  void MergeOnClose(bool merge);

 private:
  Database(std::string path, sqlite3* db);
  [[nodiscard]] Statement Prepare(const std::string& sql);

  std::string path_;
  sqlite3* db_;
  int log_pages_ = 0;
  std::unordered_map<std::string, sqlite3_stmt*> prepared_;
};

// Every row of `statement`, each read by `read`.
template <typename Row>
[[nodiscard]] absl::StatusOr<std::vector<Row>> ReadAll(
    Statement statement, absl::StatusOr<Row> (*read)(const Statement&)) {
  std::vector<Row> rows;
  while (true) {
    const absl::StatusOr<bool> more = statement.Step();
    if (!more.ok()) return more.status();
    if (!*more) return rows;
    absl::StatusOr<Row> row = read(statement);
    if (!row.ok()) return row.status();
    rows.push_back(*std::move(row));
  }
}

// The first row; absent if there is none.
template <typename Row>
[[nodiscard]] absl::StatusOr<std::optional<Row>> ReadOne(
    Statement statement, absl::StatusOr<Row> (*read)(const Statement&)) {
  const absl::StatusOr<bool> found = statement.Step();
  if (!found.ok()) return found.status();
  if (!*found) return std::nullopt;
  absl::StatusOr<Row> row = read(statement);
  if (!row.ok()) return row.status();
  return *std::move(row);
}

// First column of the only row, as a number or as text.
[[nodiscard]] absl::StatusOr<int64_t> ReadInt(Statement statement);
[[nodiscard]] absl::StatusOr<std::string> ReadText(Statement statement);

}  // namespace turnstone
