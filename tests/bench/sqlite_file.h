// SQLite as anybody would use it: what the floor and the site's own tables are
// built on. Everything that fails ends the bench.
#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace turnstone {

struct Bytes {
  std::string bytes;
};
using Value = std::variant<std::monostate, int64_t, std::string, Bytes>;
using Values = std::vector<Value>;

class SqliteFile {
 public:
  // Opens or makes the file, with the settings of the service's store.
  explicit SqliteFile(const std::string& path);
  SqliteFile(const SqliteFile&) = delete;
  SqliteFile& operator=(const SqliteFile&) = delete;
  ~SqliteFile();

  void Script(const std::string& sql);
  [[nodiscard]] sqlite3_stmt* Prepare(const std::string& sql);
  // `values` must outlive the call only.
  void Run(sqlite3_stmt* statement, const Values& values);
  [[nodiscard]] std::vector<Values> Rows(sqlite3_stmt* statement,
                                         const Values& values = {});
  [[nodiscard]] int64_t Number(const std::string& sql);
  // Durable when it returns; merges the log when the service would.
  void Commit();

 private:
  void Check(int code);

  sqlite3* db_ = nullptr;
  int log_pages_ = 0;
  std::vector<sqlite3_stmt*> prepared_;
  sqlite3_stmt* commit_;
};

}  // namespace turnstone
