#include "service/store/store_folder.h"

#include <absl/status/status.h>
#include <absl/strings/str_cat.h>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <utility>

#include "service/store/file_step.h"

namespace turnstone {
namespace {

constexpr mode_t kFolderMode = 0700;
constexpr mode_t kFileMode = 0600;

absl::Status MakeFolder(const std::string& folder) {
  if (mkdir(folder.c_str(), kFolderMode) != 0) {
    if (errno == EEXIST) return absl::OkStatus();
    return FileError("make", folder, errno);
  }
  const std::filesystem::path above =
      std::filesystem::absolute(folder).parent_path();
  return SyncFolder(above.string());
}

// File descriptor that holds the lock. The lock belongs to the descriptor, so
// a second one in this process is refused too.
absl::StatusOr<int> TakeLock(const std::string& folder) {
  const std::string path = absl::StrCat(folder, "/turnstone.lock");
  const int fd =
      open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, kFileMode);
  if (fd < 0) return FileError("open", path, errno);
  if (flock(fd, LOCK_EX | LOCK_NB) == 0) return fd;
  const int error = errno;
  close(fd);
  if (error != EWOULDBLOCK) return FileError("lock", path, error);
  return absl::FailedPreconditionError(
      absl::StrCat("another turnstoned has ", folder,
                   ": stop it first, or give this one a folder of its own"));
}

// 0 if there is no such file.
int64_t SizeOf(const std::string& path) {
  struct stat info {};
  return stat(path.c_str(), &info) == 0 ? info.st_size : 0;
}

absl::Status MakeDatabaseFile(const std::string& folder,
                              const std::string& path) {
  const std::string log = absl::StrCat(path, "-wal");
  if (SizeOf(path) == 0 && SizeOf(log) > 0) {
    // SQLite would take the store for new and throw the log away.
    return absl::DataLossError(absl::StrCat(
        path, " is missing or empty, but its log ", log,
        " is there: put the file back beside its log, or restore a backup of "
        "the whole folder. Do not delete the log: it holds accepted events"));
  }
  const int fd =
      open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, kFileMode);
  if (fd < 0) return FileError("open", path, errno);
  // Also where somebody copied it here; its log takes its rights from it.
  const int narrowed = fchmod(fd, kFileMode);
  const int error = errno;
  close(fd);
  if (narrowed != 0)
    return FileError("take everybody's rights from", path, error);
  return SyncFolder(folder);
}

}  // namespace

absl::StatusOr<std::unique_ptr<StoreFolder>> StoreFolder::Open(
    const std::string& folder) {
  absl::Status status = MakeFolder(folder);
  if (!status.ok()) return status;
  const absl::StatusOr<int> lock = TakeLock(folder);
  if (!lock.ok()) return lock.status();
  std::unique_ptr<StoreFolder> held(
      new StoreFolder(absl::StrCat(folder, "/turnstone.db"), *lock));
  status = MakeDatabaseFile(folder, held->database_path());
  if (!status.ok()) return status;
  return held;
}

StoreFolder::StoreFolder(std::string database_path, int lock)
    : database_path_(std::move(database_path)), lock_(lock) {}

StoreFolder::~StoreFolder() { close(lock_); }

}  // namespace turnstone
