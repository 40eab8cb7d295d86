#include "tests/faults/rows.h"

#include <absl/strings/str_cat.h>
#include <sqlite3.h>

#include <cstdint>
#include <cstdio>
#include <cstdlib>

namespace turnstone::faults {
namespace {

void Require(bool well, sqlite3* db) {
  if (well) return;
  std::fprintf(stderr, "cannot read the store: %s\n", sqlite3_errmsg(db));
  std::abort();
}

std::string Column(sqlite3_stmt* row, int column) {
  const void* bytes = sqlite3_column_blob(row, column);
  if (bytes == nullptr) return "";
  return {static_cast<const char*>(bytes),
          static_cast<size_t>(sqlite3_column_bytes(row, column))};
}

}  // namespace

std::vector<Row> ReadRows(const std::string& folder, const std::string& sql) {
  sqlite3* db = nullptr;
  Require(sqlite3_open((folder + "/turnstone.db").c_str(), &db) == SQLITE_OK,
          db);
  // Without it SQLite asks for shared memory, which the disk does not have.
  sqlite3_exec(db, "PRAGMA locking_mode = EXCLUSIVE", nullptr, nullptr,
               nullptr);
  sqlite3_stmt* statement = nullptr;
  Require(
      sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr) == SQLITE_OK,
      db);
  std::vector<Row> rows;
  int code = SQLITE_ROW;
  while ((code = sqlite3_step(statement)) == SQLITE_ROW) {
    Row& row = rows.emplace_back();
    for (int i = 0; i < sqlite3_column_count(statement); ++i) {
      row.push_back(Column(statement, i));
    }
  }
  Require(code == SQLITE_DONE, db);
  sqlite3_finalize(statement);
  sqlite3_close(db);
  return rows;
}

std::string DigestOfStore(const std::string& folder) {
  // FNV-1a: the same on every machine. Algorithm from memory: Fowler, Noll, Vo.
  uint64_t hash = 14695981039346656037U;
  for (const Row& table :
       ReadRows(folder,
                "SELECT name FROM sqlite_schema WHERE type = 'table' "
                "ORDER BY name")) {
    // Salts, and what depends on them, are never the same twice.
    const std::string columns =
        table[0] == "audit" ? "sequence, at, actor, action, subject, site, "
                              "participant, detail, emptied"
                            : "*";
    for (const Row& row :
         ReadRows(folder, absl::StrCat("SELECT ", columns, " FROM ", table[0],
                                       " ORDER BY 1"))) {
      for (const std::string& value : row) {
        for (const char c : absl::StrCat(value, "\n")) {
          hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
        }
      }
    }
  }
  return absl::StrCat(absl::Hex(hash, absl::kZeroPad16));
}

}  // namespace turnstone::faults
