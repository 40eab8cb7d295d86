#include "service/store/pragmas.h"

#include <absl/strings/str_cat.h>

#include <string>
#include <vector>

namespace turnstone {
namespace {

struct Pragma {
  const char* name;
  const char* value;
  const char* reads_back;
};

const std::vector<Pragma>& ConnectionPragmas() {
  static const auto& pragmas = *new std::vector<Pragma>{
      // Must come before the first read, so that no shared memory is used.
      {"locking_mode", "EXCLUSIVE", "exclusive"},
      // A commit returns after its log is synced: BrokeDurable.
      {"synchronous", "FULL", "2"},
      {"foreign_keys", "ON", "1"},
      // Sorting must not put participants' data into a temporary folder.
      {"temp_store", "MEMORY", "2"},
      // What is erased is overwritten.
      {"secure_delete", "ON", "1"},
      // 64 MB: the upper pages of every table and index, where SQLite's own 2
      // MB
      // would read them again and again.
      {"cache_size", "-65536", "-65536"},
      // Damage is reported instead of read.
      {"cell_size_check", "ON", "1"},
  };
  return pragmas;
}

const std::vector<Pragma>& LogPragmas() {
  static const auto& pragmas = *new std::vector<Pragma>{
      {"journal_mode", "WAL", "wal"},
      // Bytes the log is cut to after it was merged.
      {"journal_size_limit", "16777216", "16777216"},
      // We merge the log ourselves: SQLite's own merging hides its errors.
      {"wal_autocheckpoint", nullptr, "0"},
  };
  return pragmas;
}

absl::Status Set(Database& db, const std::vector<Pragma>& pragmas) {
  for (const Pragma& pragma : pragmas) {
    const std::string read = absl::StrCat("PRAGMA ", pragma.name);
    if (pragma.value != nullptr) {
      absl::Status status = db.Run(absl::StrCat(read, " = ", pragma.value));
      if (!status.ok()) return status;
    }
    const absl::StatusOr<std::string> now = ReadText(db.Query(read));
    if (!now.ok()) return now.status();
    if (*now != pragma.reads_back) {
      return absl::InternalError(absl::StrCat(
          db.path(), ": SQLite's ", pragma.name, " is \"", *now,
          "\" and must be \"", pragma.reads_back,
          "\": put the store on a local disk and use the SQLite library "
          "turnstoned was built with"));
    }
  }
  return absl::OkStatus();
}

}  // namespace

absl::Status SetConnectionPragmas(Database& db) {
  return Set(db, ConnectionPragmas());
}

absl::Status SetLogPragmas(Database& db) { return Set(db, LogPragmas()); }

}  // namespace turnstone
