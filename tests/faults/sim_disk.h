// A disk in memory for SQLite, which fails, fills up and loses power when told
// to. SQLite's default file system while it lives; a life on it costs
// microseconds, and every byte of it follows from the seed.
//
// The fault model:
// - Every file has durable bytes, as of its last sync, and changes since, which
//   reads see. A power cut keeps, drops or tears each of those changes apart
//   from the others (sim_file.h). A file that was made and never synced may go
//   as a whole, and one that was deleted may come back, until their folder is
//   synced: by the first sync of a new file, as SQLite does on Unix, and by the
//   store when it opens the database.
// - A process that dies takes nothing with it: what it had written is still in
//   the system's cache, and not durable.
// - Any operation can fail, once or for ever. A failed write may leave a part
//   of it. After a failed sync the changes are lost for good: reads see them
//   until the power goes, and no later sync makes them durable.
// - A disk that is full refuses what would make a file grow, after writing what
//   fits.
// Only bytes that go through SQLite are here: the store's folder, its lock and
// the empty file that stands for the database are real.
//
// Single-thread; one at a time.
#pragma once

#include <sqlite3.h>

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <utility>

#include "tests/faults/random.h"
#include "tests/faults/sim_file.h"

namespace turnstone::faults {

class SimDisk {
 public:
  enum class Op { kWrite, kSync, kTruncate, kRead, kOpen, kDelete };

  explicit SimDisk(uint64_t seed);
  SimDisk(const SimDisk&) = delete;
  SimDisk& operator=(const SimDisk&) = delete;
  // REQUIRES: every file is closed.
  ~SimDisk();

  struct Fault {
    // Which operation fails, counted from now; 1: the next.
    int64_t nth = 1;
    // And every one after it.
    bool for_ever = false;
    // SQLite's code; 0: the one that fits the operation.
    int code = 0;
    // Counts and fails only these; else any operation on any file.
    std::optional<Op> only = {};
    std::string suffix = "";  // of the file's name
  };
  // Takes the place of the fault before.
  void Fail(const Fault& fault);
  // Takes back what was asked for, whether it has happened or not.
  void Heal();
  [[nodiscard]] bool failed() const { return failed_; }

  // In the `nth` operation from now on the process dies. From then on nothing
  // does anything, and every operation fails, until Start.
  void StopAt(int64_t nth) { stop_at_ = operations_ + nth; }
  void Stop() { stopped_ = true; }
  [[nodiscard]] bool stopped() const { return stopped_; }
  // The power goes, and with it the process.
  void CutPower();
  void SetFate(const Fate& fate) { fate_ = fate; }
  // A new process may use the disk. Files opened before stay dead.
  void Start();

  // Of all files; none: any number of bytes.
  void SetCapacity(std::optional<size_t> bytes) { capacity_ = bytes; }
  [[nodiscard]] size_t used() const;

  // The last operation that failed or in which the process died, in words.
  [[nodiscard]] const std::string& hit() const { return hit_; }

  // So far. All operations count, those that failed included.
  [[nodiscard]] int64_t operations() const { return operations_; }
  [[nodiscard]] int64_t Count(Op op, const std::string& suffix) const;
  // 0 if there is no such file.
  [[nodiscard]] size_t SizeOf(const std::string& name) const;
  // There is nothing on it any more. REQUIRES: every file is closed.
  void Erase() { names_.clear(); }

  // Setting this pragma does nothing, and reading it gives `value`.
  void Pretend(const std::string& pragma, const std::string& value) {
    pretended_[pragma] = value;
  }

  // For the SQLite side (sim_vfs.cc); all return SQLite's codes.
  struct OpenFile {
    std::string name;  // empty: nobody else can open it
    std::shared_ptr<SimFile> file;
    int life;
    bool delete_on_close;
  };
  [[nodiscard]] int Open(const std::string& name, int flags,
                         std::unique_ptr<OpenFile>& opened);
  [[nodiscard]] int Read(const OpenFile& from, size_t at, size_t size,
                         char* to);
  [[nodiscard]] int Write(const OpenFile& to, size_t at,
                          const std::string& bytes);
  [[nodiscard]] int Truncate(const OpenFile& file, size_t size);
  [[nodiscard]] int Sync(const OpenFile& file);
  [[nodiscard]] int Delete(const std::string& name, bool sync_folder);
  [[nodiscard]] bool Exists(const std::string& name) const;
  // Null if the pragma is not pretended.
  [[nodiscard]] const std::string* Pretended(const std::string& pragma) const;
  [[nodiscard]] Random& random() { return random_; }

 private:
  // Behind a name: the file that is seen there, and the one a power cut leaves.
  struct Entry {
    std::shared_ptr<SimFile> seen;     // null: there is none
    std::shared_ptr<SimFile> durable;  // null: there is none
  };
  struct Verdict {
    int code = SQLITE_OK;
    // It fails, or the process dies, in the midst of it.
    bool underway = false;
  };
  [[nodiscard]] Verdict Judge(Op op, const std::string& name, int life);
  // What names there are is durable.
  void SyncFolder();
  [[nodiscard]] bool Matches(Op op, const std::string& name) const;

  sqlite3_vfs vfs_;
  Random random_;
  Fate fate_;
  std::map<std::string, Entry> names_;
  std::map<std::pair<Op, std::string>, int64_t> counts_;
  std::map<std::string, std::string> pretended_;
  int64_t operations_ = 0;
  int64_t stop_at_ = 0;  // 0: never
  bool stopped_ = false;
  int life_ = 0;  // of the process
  std::optional<Fault> fault_;
  bool failed_ = false;
  std::string hit_;
  std::optional<size_t> capacity_;
};

}  // namespace turnstone::faults
