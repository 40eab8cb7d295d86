// What stays of an alert whose participant was erased: what happened when, so
// that no count changes, and nothing of the person. Pure.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/engine/history.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// Stands in the participant's place on their alerts, of which `first` is one:
// "erased/17". No participant can have such an id.
[[nodiscard]] std::string ErasedName(const std::string& first_alert_id);
[[nodiscard]] bool IsErased(const v1::Alert& alert);
// FAILED_PRECONDITION if it is.
[[nodiscard]] absl::Status CheckNotErased(const v1::Alert& alert);

// Texts, reasons and inputs go; kind, priority, status, rule, people and times
// stay. REQUIRES: it is not open.
[[nodiscard]] v1::Alert Emptied(const v1::Alert& alert,
                                const std::string& name);

// When the participant was discharged; InfiniteFuture unless they are.
[[nodiscard]] absl::Time DischargedAt(const History& history);

}  // namespace turnstone
