// The running core, as those who carry its messages reach it.
#pragma once

#include "service/core/commit_thread.h"
#include "service/deliver/outlet.h"

namespace turnstone {

// Thread-safe.
class CommitThreadOutlet final : public Outlet {
 public:
  // `thread` outlives this.
  explicit CommitThreadOutlet(CommitThread& thread) : thread_(thread) {}
  [[nodiscard]] absl::StatusOr<std::vector<ChannelKey>> Channels() override;
  [[nodiscard]] absl::StatusOr<std::optional<Envelope>> Next(
      const ChannelKey& channel) override;
  [[nodiscard]] absl::Status Record(const Envelope& envelope,
                                    const absl::Status& result) override;

 private:
  CommitThread& thread_;
};

}  // namespace turnstone
