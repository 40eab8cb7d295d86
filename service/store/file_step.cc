#include "service/store/file_step.h"

#include <absl/strings/str_cat.h>
#include <fcntl.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace turnstone {
namespace {

absl::Status SyncAt(const std::string& path, int flags) {
  const int fd = open(path.c_str(), flags | O_CLOEXEC);
  if (fd < 0) return FileError("open", path, errno);
  const int error = fsync(fd) == 0 ? 0 : errno;
  close(fd);
  if (error != 0) return FileError("sync", path, error);
  return absl::OkStatus();
}

}  // namespace

absl::Status FileError(const std::string& what, const std::string& path,
                       int error) {
  const std::string message = absl::StrCat("cannot ", what, " ", path, ": ",
                                           std::strerror(error), ": ");
  switch (error) {
    case ENOENT:
      return absl::NotFoundError(
          absl::StrCat(message, "make the folder above it first"));
    case ENOSPC:
    case EDQUOT:
      return absl::ResourceExhaustedError(
          absl::StrCat(message, "free space, then start turnstoned again"));
    case EIO:
      return absl::UnavailableError(
          absl::StrCat(message, "look at the disk and the system log"));
    default:
      return absl::PermissionDeniedError(
          absl::StrCat(message,
                       "name a folder that the account turnstoned runs as may "
                       "read and write"));
  }
}

absl::Status SyncFile(const std::string& path) {
  return SyncAt(path, O_RDONLY);
}

absl::Status SyncFolder(const std::string& folder) {
  return SyncAt(folder, O_RDONLY | O_DIRECTORY);
}

}  // namespace turnstone
