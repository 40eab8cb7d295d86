#include "service/rpc/status.h"

#include <string>

namespace turnstone {

grpc::Status ToGrpc(const absl::Status& status) {
  if (status.ok()) return grpc::Status::OK;
  // The two enumerations share their values.
  return {static_cast<grpc::StatusCode>(status.code()),
          std::string(status.message())};
}

absl::Status QueueFull() {
  return absl::ResourceExhaustedError(
      "not accepted: the service is busy; wait a second and repeat the call");
}

absl::Status GaveUp() {
  return absl::DeadlineExceededError(
      "not accepted: the caller stopped waiting before its turn came; repeat "
      "the call with a longer deadline");
}

}  // namespace turnstone
