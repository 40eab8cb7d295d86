#include "platform/files.h"

#include <absl/strings/str_cat.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <filesystem>
#include <memory>
#include <system_error>
#include <vector>

namespace turnstone {
namespace {

constexpr size_t kMaxFileBytes = size_t{16} << 20;

absl::Status OpenError(const std::string& path, int error) {
  const std::string message =
      absl::StrCat("cannot read ", path, ": ", std::strerror(error));
  if (error == ENOENT) return absl::NotFoundError(message);
  return absl::PermissionDeniedError(message);
}

}  // namespace

absl::StatusOr<std::string> ReadFile(const std::string& path) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(
      std::fopen(path.c_str(), "rb"), &std::fclose);
  if (file == nullptr) return OpenError(path, errno);
  std::string text;
  char buffer[65536];
  size_t got = 0;
  while ((got = std::fread(buffer, 1, sizeof buffer, file.get())) > 0) {
    if (text.size() + got > kMaxFileBytes) {
      return absl::ResourceExhaustedError(
          absl::StrCat(path, " is larger than 16 MiB"));
    }
    text.append(buffer, got);
  }
  if (std::ferror(file.get()) != 0) return OpenError(path, errno);
  return text;
}

absl::StatusOr<std::map<std::string, std::string>> ReadTextprotos(
    const std::string& path) {
  namespace fs = std::filesystem;
  std::error_code error;
  std::vector<std::string> names;
  if (fs::is_directory(path, error)) {
    for (fs::recursive_directory_iterator entry(path, error), end;
         !error && entry != end; entry.increment(error)) {
      if (entry->path().extension() == ".textproto") {
        names.push_back(entry->path().string());
      }
    }
    if (error) return OpenError(path, error.value());
  } else {
    names.push_back(path);
  }
  std::map<std::string, std::string> files;
  for (const std::string& name : names) {
    absl::StatusOr<std::string> text = ReadFile(name);
    if (!text.ok()) return text.status();
    files.emplace(name, *std::move(text));
  }
  return files;
}

}  // namespace turnstone
