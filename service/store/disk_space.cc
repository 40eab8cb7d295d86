#include "service/store/disk_space.h"

#include <absl/strings/str_cat.h>
#include <fcntl.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace turnstone {
namespace {

constexpr mode_t kReserveMode = 0600;

// An errno, or 0.
int Reserve(const std::string& path, int64_t bytes) {
  const int fd = open(path.c_str(), O_WRONLY | O_CREAT | O_CLOEXEC | O_NOFOLLOW,
                      kReserveMode);
  if (fd < 0) return errno;
  int error = EINTR;
  while (error == EINTR) error = posix_fallocate(fd, 0, bytes);
  close(fd);
  return error;
}

}  // namespace

FolderSpace::FolderSpace(const std::string& folder, int64_t reserve_bytes)
    : folder_(folder),
      path_(absl::StrCat(folder, "/reserve")),
      reserve_bytes_(reserve_bytes) {}

int64_t FolderSpace::Free() {
  struct statvfs disk {};
  if (statvfs(folder_.c_str(), &disk) != 0) return 0;
  return static_cast<int64_t>(disk.f_bavail * disk.f_frsize);
}

absl::Status FolderSpace::Hold() {
  if (held_) return absl::OkStatus();
  const int error = Reserve(path_, reserve_bytes_);
  if (error != 0) {
    Release();  // what there is of it is of more use to the store
    return absl::ResourceExhaustedError(
        absl::StrCat("cannot set aside ", reserve_bytes_, " bytes as ", path_,
                     ": ", std::strerror(error)));
  }
  held_ = true;
  return absl::OkStatus();
}

// Where the file cannot be removed, the disk is as full as it was, which the
// next commit finds out.
void FolderSpace::Release() {
  unlink(path_.c_str());
  held_ = false;
}

}  // namespace turnstone
