// Reading alerts. As the functions of the same name in Store.
#pragma once

#include <absl/status/statusor.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone::query {

[[nodiscard]] absl::StatusOr<std::optional<v1::Alert>> FindAlert(
    Database& db, const std::string& alert_id);

[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsOf(
    Database& db, const ParticipantKey& key);

[[nodiscard]] absl::StatusOr<AlertPage> ListAlerts(
    Database& db, const v1::ListAlertsRequest& request, int page_size);

[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsAfterPosition(
    Database& db, const std::string& site, int64_t position, int limit);

[[nodiscard]] absl::StatusOr<OpenCount> CountOpen(Database& db);
[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsRaised(
    Database& db, const std::string& site, absl::Time from, absl::Time to);

}  // namespace turnstone::query
