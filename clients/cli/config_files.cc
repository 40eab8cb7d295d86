#include "clients/cli/config_files.h"

#include <filesystem>
#include <system_error>
#include <utility>

#include "platform/files.h"

namespace turnstone::cli {

absl::StatusOr<ConfigFiles> ReadConfigFiles(
    const std::vector<std::string>& paths) {
  ConfigFiles files;
  for (const std::string& path : paths) {
    std::error_code ignored;
    files.complete |= std::filesystem::is_directory(
        std::filesystem::path(path) / "sites", ignored);
    absl::StatusOr<std::map<std::string, std::string>> text =
        ReadTextprotos(path);
    if (!text.ok()) return text.status();
    files.text.merge(*std::move(text));
  }
  if (!files.text.empty()) return files;
  return absl::NotFoundError(
      "no file there ends in .textproto; write the folder that holds them");
}

}  // namespace turnstone::cli
