// The one gate through which every call goes to the Core: who calls, whether
// the method is for them, and of which sites. The table it goes by stands with
// the methods (turnstone/v1/access.proto).
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <google/protobuf/descriptor.h>
#include <google/protobuf/message.h>

#include "service/core/caller.h"
#include "service/core/core.h"

namespace turnstone {

// INTERNAL, naming the method, unless every method of every service in `file`
// has an entry that can be gone by: kinds of callers, fields that its request
// has, and the same entry as other methods with that request, since the request
// tells the gate which entry counts. The service does not start otherwise.
[[nodiscard]] absl::Status CheckAccessTable(
    const google::protobuf::FileDescriptor& file);

// The caller, if they may make this call. Call it on the commit thread, each
// time something is read or done for them: what the sites' files say now
// counts. Errors: as Admit; PERMISSION_DENIED for a site that is not theirs;
// NOT_FOUND for an alert that is not.
[[nodiscard]] absl::StatusOr<Caller> PassGate(
    Core& core, const Presented& who, const google::protobuf::Message& request);

}  // namespace turnstone
