// Who is calling. The one place where identity is decided: when certificates
// come, only this file changes.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>

#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// The caller as they state themselves in the metadata keys "turnstone-name"
// and "turnstone-role". UNAUTHENTICATED, saying what to send, if either is
// missing or malformed or the role is not known.
[[nodiscard]] absl::StatusOr<v1::Actor> DecideCaller(
    const grpc::ServerContextBase& context);

}  // namespace turnstone
