// What lies in a store's files, seen without the store.
#pragma once

#include <gtest/gtest.h>
#include <sqlite3.h>

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace turnstone {

// Files of `folder` that hold `text` anywhere.
inline std::vector<std::string> FilesWith(const std::string& text,
                                          const std::string& folder) {
  std::vector<std::string> found;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    std::ostringstream bytes;
    bytes << std::ifstream(entry.path(), std::ios::binary).rdbuf();
    if (bytes.str().find(text) != std::string::npos) {
      found.push_back(entry.path().filename().string());
    }
  }
  return found;
}

// Changes a closed store behind its back.
inline void Meddle(const std::string& folder, const std::string& sql) {
  sqlite3* db = nullptr;
  ASSERT_EQ(sqlite3_open((folder + "/turnstone.db").c_str(), &db), SQLITE_OK);
  char* error = nullptr;
  EXPECT_EQ(sqlite3_exec(db, sql.c_str(), nullptr, nullptr, &error), SQLITE_OK)
      << error;
  sqlite3_free(error);
  sqlite3_close(db);
}

// Puts what `change` makes of it into the place of the message in the one row
// of a closed store that `where` finds.
template <typename Message, typename Change>
void MeddleWith(const std::string& folder, const std::string& table,
                const std::string& where, Change change) {
  sqlite3* db = nullptr;
  ASSERT_EQ(sqlite3_open((folder + "/turnstone.db").c_str(), &db), SQLITE_OK);
  sqlite3_stmt* row = nullptr;
  const std::string read = "SELECT content FROM " + table + " WHERE " + where;
  ASSERT_EQ(sqlite3_prepare_v2(db, read.c_str(), -1, &row, nullptr), SQLITE_OK);
  ASSERT_EQ(sqlite3_step(row), SQLITE_ROW);
  Message message;
  ASSERT_TRUE(message.ParseFromArray(sqlite3_column_blob(row, 0),
                                     sqlite3_column_bytes(row, 0)));
  sqlite3_finalize(row);
  change(message);
  const std::string bytes = message.SerializeAsString();
  const std::string write =
      "UPDATE " + table + " SET content = ? WHERE " + where;
  ASSERT_EQ(sqlite3_prepare_v2(db, write.c_str(), -1, &row, nullptr),
            SQLITE_OK);
  sqlite3_bind_blob(row, 1, bytes.data(), static_cast<int>(bytes.size()),
                    SQLITE_STATIC);
  EXPECT_EQ(sqlite3_step(row), SQLITE_DONE) << sqlite3_errmsg(db);
  sqlite3_finalize(row);
  sqlite3_close(db);
}

}  // namespace turnstone
