#include "service/core/backup_folder.h"

#include <absl/strings/str_cat.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <string>

#include "service/store/file_step.h"

namespace turnstone {

absl::StatusOr<std::string> BackupFolder::Begin() {
  if (folder_.empty()) {
    return absl::FailedPreconditionError(
        "the service was started without a folder for backups; start it with "
        "--backups FOLDER, on another disk than its data");
  }
  if (under_way_.exchange(true)) {
    return absl::FailedPreconditionError(
        "another backup is being made; wait for it to end");
  }
  if (mkdir(folder_.c_str(), 0700) != 0 && errno != EEXIST) {
    absl::Status error = FileError("make", folder_, errno);
    under_way_ = false;
    return error;
  }
  unlink(Unfinished().c_str());
  return Unfinished();
}

std::string BackupFolder::PathOf(const std::string& file) const {
  return absl::StrCat(folder_, "/", file);
}

void BackupFolder::End() {
  unlink(Unfinished().c_str());
  under_way_ = false;
}

std::string BackupFolder::Unfinished() const { return PathOf("unfinished.db"); }

}  // namespace turnstone
