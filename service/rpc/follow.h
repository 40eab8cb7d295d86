// One FollowAlerts call.
#pragma once

#include <grpcpp/support/server_callback.h>

#include <mutex>
#include <optional>
#include <vector>

#include "service/core/change_hub.h"
#include "service/rpc/entrance.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Reads on from its own position whenever something has changed: bounded
// memory however slow the reader. One who has not taken what was sent for long
// when there is more is cut off. Deletes itself when the call is over.
class FollowReactor final : public grpc::ServerWriteReactor<v1::Alert> {
 public:
  // All of them outlive the call.
  FollowReactor(grpc::CallbackServerContext& context, const Entrance& entrance,
                ChangeHub& hub, const v1::FollowAlertsRequest& request,
                Entered entered);

  void OnWriteDone(bool ok) override;
  void OnCancel() override;
  void OnDone() override;

 private:
  static constexpr int kBatch = 100;
  // Common practice, no source.
  static constexpr absl::Duration kPatience = absl::Minutes(1);

  // Something may have changed.
  void Poke();
  void TakeBatch(absl::StatusOr<std::vector<v1::Alert>> batch);
  // The next four need mutex_.
  [[nodiscard]] bool IsTooSlow() const;
  void Fetch();
  void WriteOrFetch();
  void End(const absl::Status& status);

  grpc::CallbackServerContext& context_;
  const Entrance entrance_;
  ChangeHub& hub_;
  const v1::FollowAlertsRequest request_;
  const Entered entered_;
  int64_t subscription_ = 0;

  std::mutex mutex_;
  std::optional<int64_t> position_;  // absent: begin at the present
  // Of the write under way; absent if there is none.
  std::optional<absl::Duration> writing_since_;
  std::vector<v1::Alert> batch_;
  size_t next_ = 0;
  bool busy_ = false;   // a fetch or a write is under way
  bool again_ = false;  // poked while busy
  bool greeted_ = false;
  bool cancelled_ = false;
  bool finished_ = false;
};

}  // namespace turnstone
