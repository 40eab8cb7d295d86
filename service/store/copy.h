// A copy of the live database into another file, made a part at a time through
// the connection that has it: what is committed meanwhile goes into the copy
// too. SQLite 3.40 must never have two connections to the live file.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <cstdint>
#include <functional>
#include <memory>
#include <string>

#include "service/store/sqlite_db.h"

struct sqlite3_backup;

namespace turnstone {

// Single-thread.
class Copy {
 public:
  // Begins to write `path`, which must not exist; 0600. `live` outlives this.
  [[nodiscard]] static absl::StatusOr<std::unique_ptr<Copy>> Begin(
      Database& live, const std::string& path);
  Copy(const Copy&) = delete;
  Copy& operator=(const Copy&) = delete;
  ~Copy();

  // Copies up to `pages` more. True: it is whole. On an error it is of no use
  // any more; the live database is as it was. REQUIRES: no transaction is open.
  [[nodiscard]] absl::StatusOr<bool> GoOn(int pages);
  [[nodiscard]] int64_t bytes() const;
  [[nodiscard]] int64_t bytes_total() const;

 private:
  Copy(std::string path, sqlite3* target, sqlite3_backup* backup,
       int64_t page_bytes);

  const std::string path_;
  sqlite3* target_;
  sqlite3_backup* backup_;
  const int64_t page_bytes_;
};

// Makes a whole copy at `partial` fit to be relied on: one file without a log,
// synced, checked from end to end, and only then named `path`, which is synced
// into its folder. Takes as long as reading all of it. `go_on` is asked many
// times a second; CANCELLED once it says no. DATA_LOSS: the copy is damaged.
// Touches nothing but these files, so it may run on any thread. Bytes it has.
[[nodiscard]] absl::StatusOr<int64_t> FinishCopy(
    const std::string& partial, const std::string& path,
    const std::function<bool()>& go_on);

}  // namespace turnstone
