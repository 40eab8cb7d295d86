// What people do with an alert. Pure: time and caller as input.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <string>
#include <vector>

#include "service/core/escalation.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone {

// Who does it, when, and where.
struct Desk {
  const v1::Actor& by;
  absl::Time now;
  const Around& around;
};

// What a piece of work did besides changing the alert.
struct WorkDone {
  // "alert received", for the audit; empty: nothing changed.
  std::string action;
  // Messages owed so far are not needed any more.
  bool settles_messages = false;
  std::vector<Telling> tellings;
};

// Does what `request` asks, except to reopen. On an error the alert is as it
// was. Errors: INVALID_ARGUMENT, saying what to send instead; PERMISSION_DENIED
// if the role may not; FAILED_PRECONDITION if the alert is not in a state for
// it.
[[nodiscard]] absl::StatusOr<WorkDone> Work(const v1::WorkAlertRequest& request,
                                            const Desk& desk, v1::Alert& alert);

}  // namespace turnstone
