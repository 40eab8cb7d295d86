// The room on the disk the store lives on, and a reserve of it: set aside while
// there is plenty, so that open alerts can still be recorded when there is not.
#pragma once

#include <absl/status/status.h>

#include <cstdint>
#include <string>

namespace turnstone {

// Single-thread.
class DiskSpace {
 public:
  virtual ~DiskSpace() = default;
  // Bytes this account may still use; the reserve, while held, is not among
  // them. 0 where nobody can say: such a disk is not to be relied on.
  [[nodiscard]] virtual int64_t Free() = 0;
  [[nodiscard]] virtual int64_t reserve_bytes() const = 0;
  // Sets the reserve aside, unless it is. On an error nothing is held.
  [[nodiscard]] virtual absl::Status Hold() = 0;
  // Gives it up for use.
  virtual void Release() = 0;
};

// Of the file system `folder` is on; the reserve is a file in it.
class FolderSpace final : public DiskSpace {
 public:
  // Common practice, no source: some ten thousand steps of open alerts.
  static constexpr int64_t kReserveBytes = int64_t{64} << 20;

  // Touches nothing yet; the folder may still be missing.
  explicit FolderSpace(const std::string& folder,
                       int64_t reserve_bytes = kReserveBytes);
  [[nodiscard]] int64_t Free() override;
  [[nodiscard]] int64_t reserve_bytes() const override {
    return reserve_bytes_;
  }
  [[nodiscard]] absl::Status Hold() override;
  void Release() override;

 private:
  const std::string folder_;
  const std::string path_;
  const int64_t reserve_bytes_;
  bool held_ = false;
};

}  // namespace turnstone
