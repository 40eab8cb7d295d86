// Asking for lists of alerts.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <vector>

#include "clients/cli/connection.h"
#include "turnstone/v1/service.pb.h"

namespace turnstone::cli {

struct AlertList {
  std::vector<v1::Alert> alerts;  // each once, in its latest state
  absl::Time now;                 // the service's
  // Alerts moved between pages while they were read: one may be missing.
  bool changed_meanwhile = false;
};

// Every page of the answer to `request`. Errors as the service's.
[[nodiscard]] absl::StatusOr<AlertList> FetchAlerts(
    const Connection& connection, v1::ListAlertsRequest request);

}  // namespace turnstone::cli
