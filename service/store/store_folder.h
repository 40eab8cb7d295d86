// The folder a store lives in: made, locked against a second service, and
// closed to other accounts.
#pragma once

#include <absl/status/statusor.h>

#include <memory>
#include <string>

namespace turnstone {

// Holds the folder until destroyed.
class StoreFolder {
 public:
  // Makes the folder (0700) if its parent exists, takes the lock, and makes an
  // empty database file (0600) if there is none.
  //   FAILED_PRECONDITION  another StoreFolder, in this or any process, has it
  //   DATA_LOSS            the database file is gone but its log is there
  //   PERMISSION_DENIED, NOT_FOUND, RESOURCE_EXHAUSTED, UNAVAILABLE with the
  //   path and what to do
  [[nodiscard]] static absl::StatusOr<std::unique_ptr<StoreFolder>> Open(
      const std::string& folder);
  StoreFolder(const StoreFolder&) = delete;
  StoreFolder& operator=(const StoreFolder&) = delete;
  ~StoreFolder();

  [[nodiscard]] const std::string& database_path() const {
    return database_path_;
  }

 private:
  StoreFolder(std::string database_path, int lock);

  std::string database_path_;
  int lock_;
};

}  // namespace turnstone
