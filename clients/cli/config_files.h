// The configuration files a command is given.
#pragma once

#include <absl/status/statusor.h>

#include <map>
#include <string>
#include <vector>

namespace turnstone::cli {

struct ConfigFiles {
  std::map<std::string, std::string> text;  // by path
  bool complete = false;                    // there are sites among them
};

// Every .textproto in the files and folders named. NOT_FOUND, saying what to
// write, if there is none; other errors as ReadTextprotos.
[[nodiscard]] absl::StatusOr<ConfigFiles> ReadConfigFiles(
    const std::vector<std::string>& paths);

}  // namespace turnstone::cli
