// Reading files and folders whole.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <map>
#include <string>

namespace turnstone {

// The file's bytes. NOT_FOUND or PERMISSION_DENIED with the path in the
// message; RESOURCE_EXHAUSTED if it is larger than 16 MiB.
[[nodiscard]] absl::StatusOr<std::string> ReadFile(const std::string& path);

// Text by path of every *.textproto below `path`; or of the one file, if
// `path` is a file. Errors as ReadFile.
[[nodiscard]] absl::StatusOr<std::map<std::string, std::string>> ReadTextprotos(
    const std::string& path);

}  // namespace turnstone
