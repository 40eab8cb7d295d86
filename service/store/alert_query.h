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
    Database& db, const std::string& alert_id, const SiteScope& scope);

[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsOf(
    Database& db, const ParticipantKey& key, const SiteScope& scope);

[[nodiscard]] absl::StatusOr<AlertPage> ListAlerts(
    Database& db, const v1::ListAlertsRequest& request, int page_size,
    const SiteScope& scope);

[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsAfterPosition(
    Database& db, const std::string& site, int64_t position, int limit,
    const SiteScope& scope);

[[nodiscard]] absl::StatusOr<OpenCount> CountOpen(Database& db);
[[nodiscard]] absl::StatusOr<std::vector<v1::Alert>> AlertsRaised(
    Database& db, const std::string& site, absl::Time from, absl::Time to,
    const SiteScope& scope);

}  // namespace turnstone::query
