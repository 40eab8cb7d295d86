// Secrets: small files in one folder, so that they stand neither in the site's
// file nor on a command line.
#pragma once

#include <absl/status/statusor.h>

#include <string>
#include <utility>

namespace turnstone {

// Immutable; safe to share. A file is read anew each time, so it can be
// replaced while the service runs.
class Credentials {
 public:
  // Empty: there is none, and every read fails.
  explicit Credentials(std::string folder) : folder_(std::move(folder)) {}

  // The file's content without the newline at its end. FAILED_PRECONDITION
  // naming the file and what to do, never its content: there is no folder, no
  // such file, `name` leads out of the folder, or everybody on the machine may
  // read or write the file.
  [[nodiscard]] absl::StatusOr<std::string> Read(const std::string& name) const;

 private:
  const std::string folder_;
};

}  // namespace turnstone
