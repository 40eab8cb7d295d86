#include "service/store/restore.h"

#include <absl/strings/str_cat.h>
#include <sys/stat.h>

#include <cerrno>
#include <filesystem>

#include "service/store/file_step.h"

namespace turnstone {
namespace {

namespace fs = std::filesystem;

constexpr char kName[] = "/turnstone.db";
constexpr char kUnfinished[] = "/turnstone.db.unfinished";

absl::Status CheckBackup(const std::string& from) {
  std::error_code error;
  if (!fs::is_regular_file(from, error)) {
    return absl::NotFoundError(
        absl::StrCat("there is no backup ", from,
                     ": name one of the files in the folder of backups"));
  }
  for (const char* beside : {"-wal", "-journal"}) {
    if (!fs::exists(absl::StrCat(from, beside), error)) continue;
    return absl::FailedPreconditionError(absl::StrCat(
        from,
        " is no backup: a service works on it, or was killed while it "
        "did, and part of it is in ",
        from, beside, "; name a file that turnstone backup made"));
  }
  return absl::OkStatus();
}

absl::Status MakeEmptyFolder(const std::string& folder) {
  if (mkdir(folder.c_str(), 0700) == 0) {
    return SyncFolder(fs::absolute(folder).parent_path().string());
  }
  if (errno != EEXIST) return FileError("make", folder, errno);
  std::error_code error;
  if (fs::is_directory(folder, error) && fs::is_empty(folder, error)) {
    fs::permissions(folder, fs::perms::owner_all, error);
    return absl::OkStatus();
  }
  return absl::FailedPreconditionError(absl::StrCat(
      folder,
      " is not empty and was left as it is: name a new folder; never "
      "restore over the only copy of anything"));
}

}  // namespace

absl::Status CopyBackupInto(const std::string& from,
                            const std::string& folder) {
  absl::Status status = CheckBackup(from);
  if (status.ok()) status = MakeEmptyFolder(folder);
  if (!status.ok()) return status;
  const std::string unfinished = absl::StrCat(folder, kUnfinished);
  std::error_code error;
  fs::copy_file(from, unfinished, error);
  if (error) return FileError("copy the backup to", unfinished, error.value());
  fs::permissions(unfinished, fs::perms::owner_read | fs::perms::owner_write,
                  error);
  status = SyncFile(unfinished);
  if (!status.ok()) return status;
  fs::rename(unfinished, absl::StrCat(folder, kName), error);
  if (error) return FileError("name", unfinished, error.value());
  return SyncFolder(folder);
}

void RemoveRestored(const std::string& folder) {
  std::error_code error;
  for (const char* name : {kName, kUnfinished, "/turnstone.lock"}) {
    for (const char* beside : {"", "-wal"}) {
      fs::remove(absl::StrCat(folder, name, beside), error);
    }
  }
}

}  // namespace turnstone
