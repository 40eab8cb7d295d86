// From our statuses to gRPC's, and the refusals every call shares.
#pragma once

#include <absl/status/status.h>
#include <grpcpp/support/status.h>

namespace turnstone {

// Same code, same message.
[[nodiscard]] grpc::Status ToGrpc(const absl::Status& status);

// RESOURCE_EXHAUSTED: refused before acceptance.
[[nodiscard]] absl::Status QueueFull();

// DEADLINE_EXCEEDED: the caller stopped waiting before anything was done.
[[nodiscard]] absl::Status GaveUp();

}  // namespace turnstone
