// Where every call comes in, before anything is done for it: who calls, and
// whether they may have one more call now. Whether the call is for them is then
// asked at the gate (service/rpc/access.h).
#pragma once

#include <absl/status/statusor.h>
#include <grpcpp/server_context.h>

#include <string>

#include "service/core/caller.h"
#include "service/core/commit_thread.h"
#include "service/rpc/limits.h"

namespace turnstone {

// What the services work with. Both outlive them, and the limits the thread.
struct Entrance {
  CommitThread& thread;
  Limits& limits;
};

// A call that came in.
struct Entered {
  Presented who;
  // Whose limits and turn it counts for: the certificate's URI, or in plain
  // mode the name that was said.
  std::string source;
  Limits::Pass pass;  // keep it until the call is over
};

// Errors: as WhoCalls; RESOURCE_EXHAUSTED, saying how long to wait. The same is
// in the trailing metadata key grpc-retry-pushback-ms, by which gRPC's clients
// wait of themselves if they are set to repeat calls (gRPC proposal A6).
[[nodiscard]] absl::StatusOr<Entered> Enter(grpc::ServerContextBase& context,
                                            Limits& limits, CallKind kind);

}  // namespace turnstone
