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
  // Following from this position on misses no change since the list was read.
  int64_t position = 0;
  // Alerts moved between pages while they were read: one may be missing.
  bool changed_meanwhile = false;
};

// Those that have not ended.
void AskForOpen(v1::ListAlertsRequest& request);

// Every page of the answer to `request`. Errors as the service's.
[[nodiscard]] absl::StatusOr<AlertList> FetchAlerts(
    const Connection& connection, v1::ListAlertsRequest request);

// The service's time, by which ages and deadlines count: its clock may be a
// simulated one. Errors as the service's.
[[nodiscard]] absl::StatusOr<absl::Time> ServiceTime(
    const Connection& connection);

}  // namespace turnstone::cli
