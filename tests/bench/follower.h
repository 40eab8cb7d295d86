// Somebody who follows the alerts, as a board on the wall would.
#pragma once

#include <grpcpp/channel.h>
#include <grpcpp/client_context.h>
#include <grpcpp/support/client_callback.h>

#include <memory>
#include <mutex>
#include <string>
#include <unordered_map>
#include <vector>

#include "tests/bench/callers.h"
#include "tests/bench/run.h"

namespace turnstone {

// Thread-compatible.
class Follower final : private grpc::ClientReadReactor<v1::Alert> {
 public:
  // Returns once it is being served. All must outlive it.
  Follower(const std::shared_ptr<grpc::Channel>& channel,
           const Requests& requests, Run& run);
  // How long after an event was sent its first alert came, for every event with
  // an alert that came. Ends it.
  [[nodiscard]] std::vector<double> Stop();

 private:
  void OnReadInitialMetadataDone(bool ok) override;
  void OnReadDone(bool ok) override;
  void OnDone(const grpc::Status& status) override;
  void Await(const bool& happened);

  Run& run_;
  const std::unique_ptr<v1::AlertService::Stub> stub_;
  std::unordered_map<std::string, size_t> number_of_;  // by event id
  v1::FollowAlertsRequest request_;
  grpc::ClientContext context_;
  v1::Alert alert_;
  std::vector<double> micros_;
  std::mutex mutex_;
  std::condition_variable changed_;
  bool served_ = false;
  bool over_ = false;
};

}  // namespace turnstone
