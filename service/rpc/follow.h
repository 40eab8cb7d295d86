// One FollowAlerts call.
#pragma once

#include <grpcpp/support/server_callback.h>

#include <mutex>
#include <optional>
#include <vector>

#include "service/core/caller.h"
#include "service/core/change_hub.h"
#include "service/core/commit_thread.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Reads on from its own position whenever something has changed: bounded
// memory however slow the reader. Deletes itself when the call is over.
class FollowReactor final : public grpc::ServerWriteReactor<v1::Alert> {
 public:
  FollowReactor(CommitThread& thread, ChangeHub& hub,
                const v1::FollowAlertsRequest& request, Presented who);

  void OnWriteDone(bool ok) override;
  void OnCancel() override;
  void OnDone() override;

 private:
  static constexpr int kBatch = 100;

  // Something may have changed.
  void Poke();
  void TakeBatch(absl::StatusOr<std::vector<v1::Alert>> batch);
  // The next three need mutex_.
  void Fetch();
  void WriteOrFetch();
  void End(const absl::Status& status);

  CommitThread& thread_;
  ChangeHub& hub_;
  const v1::FollowAlertsRequest request_;
  const Presented who_;
  int64_t subscription_ = 0;

  std::mutex mutex_;
  std::optional<int64_t> position_;  // absent: begin at the present
  std::vector<v1::Alert> batch_;
  size_t next_ = 0;
  bool busy_ = false;   // a fetch or a write is under way
  bool again_ = false;  // poked while busy
  bool greeted_ = false;
  bool cancelled_ = false;
  bool finished_ = false;
};

}  // namespace turnstone
