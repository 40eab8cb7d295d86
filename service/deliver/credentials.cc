#include "service/deliver/credentials.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/strip.h>
#include <sys/stat.h>

#include "platform/files.h"

namespace turnstone {
namespace {

absl::Status CheckName(const std::string& name) {
  const bool inside = !name.empty() && name != "." && name != ".." &&
                      name.find('/') == std::string::npos &&
                      name.find('\0') == std::string::npos;
  if (inside) return absl::OkStatus();
  return absl::FailedPreconditionError(
      absl::StrCat("\"", name,
                   "\" does not name a file of the credentials folder; write "
                   "the file's name alone, without \"/\""));
}

absl::Status CheckFile(const std::string& path) {
  struct stat file = {};
  if (stat(path.c_str(), &file) != 0 || !S_ISREG(file.st_mode)) {
    return absl::FailedPreconditionError(
        absl::StrCat("there is no file ", path,
                     "; put the secret there, readable by the service only"));
  }
  if ((file.st_mode & S_IRWXO) != 0) {
    return absl::FailedPreconditionError(absl::StrCat(
        path, " is open to everybody on this machine; run: chmod 600 ", path));
  }
  return absl::OkStatus();
}

}  // namespace

absl::StatusOr<std::string> Credentials::Read(const std::string& name) const {
  if (folder_.empty()) {
    return absl::FailedPreconditionError(absl::StrCat(
        "the file \"", name,
        "\" is needed, and there is no credentials folder; start the service "
        "with --credentials FOLDER"));
  }
  if (absl::Status status = CheckName(name); !status.ok()) return status;
  const std::string path = absl::StrCat(folder_, "/", name);
  if (absl::Status status = CheckFile(path); !status.ok()) return status;
  const absl::StatusOr<std::string> content = ReadFile(path);
  if (!content.ok()) {
    return absl::FailedPreconditionError(absl::StrCat(
        content.status().message(), "; make it readable by the service"));
  }
  return std::string(
      absl::StripSuffix(absl::StripSuffix(*content, "\n"), "\r"));
}

}  // namespace turnstone
