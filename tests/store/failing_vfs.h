// A SQLite file system that fails when told to. It passes calls on to the real
// one, except syncs: no test cuts the power, so they need not take time. It is
// SQLite's default while it lives.
//
// Single-thread; one at a time.
#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <map>
#include <string>
#include <utility>
#include <vector>

namespace turnstone {

class FailingVfs {
 public:
  enum class Call { kWrite, kSync, kTruncate };

  FailingVfs();
  FailingVfs(const FailingVfs&) = delete;
  FailingVfs& operator=(const FailingVfs&) = delete;
  ~FailingVfs();

  // The `nth` call from now on (1: the next) that writes, syncs or truncates a
  // file whose name ends in `suffix` fails with `code`, once. A failed write
  // leaves half of its bytes behind. `only`: counts and fails no other call.
  void FailOnce(int nth, const std::string& suffix, int code);
  void FailOnce(Call only, int nth, const std::string& suffix, int code);

  // Takes back the failure asked for, if it has not happened yet.
  void Heal() { failure_ = {}; }

  // From now on files share `room` bytes to grow by, which the caller may
  // change at any time; a write that needs more leaves half of its bytes behind
  // and finds the disk full. Below 0: so does every write. Null: there is room
  // without end.
  void SetRoom(int64_t* room) { room_ = room; }

  // Whether the failure asked for has happened.
  [[nodiscard]] bool Failed() const { return failed_; }

  // How often `call` was made on files whose name ends in `suffix`.
  [[nodiscard]] int Count(Call call, const std::string& suffix) const;
  // Calls of any kind on any file.
  [[nodiscard]] int CountAll() const { return static_cast<int>(log_.size()); }

  // Setting this pragma does nothing, and reading it gives `value`.
  void Pretend(const std::string& pragma, const std::string& value) {
    pretended_[pragma] = value;
  }

  // For the SQLite side: SQLITE_OK, or the code to fail with.
  int Note(Call call, const char* file);
  // The same for a file that grows by `bytes`, or shrinks.
  int Grow(int64_t bytes);
  // Null if the pragma is not pretended.
  [[nodiscard]] const std::string* Pretended(const std::string& pragma) const;

 private:
  struct Failure {
    std::vector<Call> calls;
    int countdown = 0;  // 0: none asked for
    std::string suffix;
    int code = SQLITE_OK;
  };

  sqlite3_vfs vfs_;
  Failure failure_;
  bool failed_ = false;
  int64_t* room_ = nullptr;
  std::vector<std::pair<Call, std::string>> log_;
  std::map<std::string, std::string> pretended_;
};

}  // namespace turnstone
