// The service's folder of backups: one is made at a time, under a name of its
// own until it can be relied on.
#pragma once

#include <absl/status/statusor.h>

#include <atomic>
#include <string>

namespace turnstone {

// Thread-safe. No two services may share a folder.
class BackupFolder {
 public:
  // Empty: there is none. It is made when first needed (its parent must exist).
  explicit BackupFolder(std::string folder) : folder_(std::move(folder)) {}

  // The path to write to. FAILED_PRECONDITION if there is no folder, or a
  // backup is under way; errors of the folder. What an earlier one left
  // unfinished is removed.
  [[nodiscard]] absl::StatusOr<std::string> Begin();
  [[nodiscard]] std::string PathOf(const std::string& file) const;
  // Whole or not: removes what is unfinished.
  void End();

 private:
  [[nodiscard]] std::string Unfinished() const;

  const std::string folder_;
  std::atomic<bool> under_way_{false};
};

}  // namespace turnstone
