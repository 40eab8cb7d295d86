// What a call says of whoever makes it. The one place where a connection is
// asked who is at its other end.
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>

#include "service/core/caller.h"

namespace turnstone {

// By the certificate's one URI where the connection is encrypted; otherwise, in
// plain mode, as stated in the metadata keys "turnstone-name" and
// "turnstone-role". UNAUTHENTICATED, saying what to send, if that is missing or
// malformed.
[[nodiscard]] absl::StatusOr<Presented> WhoCalls(
    const grpc::ServerContextBase& context);

}  // namespace turnstone
