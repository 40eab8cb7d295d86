#include "service/store/copy.h"

#include <absl/strings/str_cat.h>
#include <fcntl.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <utility>

#include "service/store/file_step.h"
#include "service/store/sqlite_error.h"

namespace turnstone {
namespace {

constexpr mode_t kCopyMode = 0600;
// SQLite's instructions between two questions whether to go on.
constexpr int kStepsBetween = 10000;

absl::Status MakeFile(const std::string& path) {
  const int fd =
      open(path.c_str(), O_RDWR | O_CREAT | O_EXCL | O_CLOEXEC | O_NOFOLLOW,
           kCopyMode);
  if (fd < 0) return FileError("make", path, errno);
  close(fd);
  return absl::OkStatus();
}

int AskWhetherToStop(void* go_on) {
  return (*static_cast<const std::function<bool()>*>(go_on))() ? 0 : 1;
}

}  // namespace

absl::StatusOr<std::unique_ptr<Copy>> Copy::Begin(Database& live,
                                                  const std::string& path) {
  absl::Status status = MakeFile(path);
  if (!status.ok()) return status;
  const absl::StatusOr<int64_t> page_bytes =
      ReadInt(live.Query("PRAGMA page_size"));
  if (!page_bytes.ok()) return page_bytes.status();
  sqlite3* target = nullptr;
  int code =
      sqlite3_open_v2(path.c_str(), &target,
                      SQLITE_OPEN_READWRITE | SQLITE_OPEN_EXRESCODE, nullptr);
  // A copy that fails is thrown away, so it needs no journal; it is synced
  // once, when it is whole.
  if (code == SQLITE_OK) {
    code = sqlite3_exec(
        target,
        "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = OFF; "
        "PRAGMA synchronous = OFF",
        nullptr, nullptr, nullptr);
  }
  sqlite3_backup* backup =
      code == SQLITE_OK
          ? sqlite3_backup_init(target, "main", live.handle(), "main")
          : nullptr;
  if (backup == nullptr) {
    absl::Status error = SqliteError(sqlite3_errcode(target), target, path);
    sqlite3_close(target);
    return error;
  }
  return std::unique_ptr<Copy>(new Copy(path, target, backup, *page_bytes));
}

Copy::Copy(std::string path, sqlite3* target, sqlite3_backup* backup,
           int64_t page_bytes)
    : path_(std::move(path)),
      target_(target),
      backup_(backup),
      page_bytes_(page_bytes) {}

Copy::~Copy() {
  sqlite3_backup_finish(backup_);
  sqlite3_close(target_);
}

absl::StatusOr<bool> Copy::GoOn(int pages) {
  const int code = sqlite3_backup_step(backup_, pages);
  if (code == SQLITE_DONE) return true;
  if (code == SQLITE_OK) return false;
  return SqliteError(code, target_, path_);
}

int64_t Copy::bytes() const {
  return bytes_total() - page_bytes_ * sqlite3_backup_remaining(backup_);
}

int64_t Copy::bytes_total() const {
  return page_bytes_ * sqlite3_backup_pagecount(backup_);
}

absl::StatusOr<int64_t> FinishCopy(const std::string& partial,
                                   const std::string& path,
                                   const std::function<bool()>& go_on) {
  {
    absl::StatusOr<std::unique_ptr<Database>> copy = Database::Open(partial);
    if (!copy.ok()) return copy.status();
    sqlite3_progress_handler((*copy)->handle(), kStepsBetween,
                             &AskWhetherToStop,
                             const_cast<std::function<bool()>*>(&go_on));
    // The live file's header speaks of a log; a backup has none.
    absl::Status status = (*copy)->Script(
        "PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = DELETE");
    if (!status.ok()) return status;
    const absl::StatusOr<std::string> found =
        ReadText((*copy)->Query("PRAGMA integrity_check(1)"));
    if (!go_on()) return absl::CancelledError("the backup was given up");
    if (!found.ok()) return found.status();
    if (*found != "ok") {
      return absl::DataLossError(absl::StrCat(
          partial, " is damaged (", *found,
          "): look at the disk the backups are on and at the one the service "
          "keeps its data on; run turnstoned verify as soon as you can"));
    }
  }
  absl::Status status = SyncFile(partial);
  if (!status.ok()) return status;
  if (rename(partial.c_str(), path.c_str()) != 0) {
    return FileError("name", path, errno);
  }
  status = SyncFolder(std::filesystem::path(path).parent_path().string());
  if (!status.ok()) return status;
  std::error_code error;
  const auto size = std::filesystem::file_size(path, error);
  return static_cast<int64_t>(size);
}

}  // namespace turnstone
