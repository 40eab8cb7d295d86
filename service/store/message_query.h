// What the outbox answers; see store.h.
#pragma once

#include <absl/status/statusor.h>

#include <optional>
#include <string>
#include <vector>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone::query {

[[nodiscard]] absl::StatusOr<std::optional<v1::OwedMessage>> FindMessage(
    Database& db, const std::string& key);
[[nodiscard]] absl::StatusOr<std::vector<v1::OwedMessage>> OwedOf(
    Database& db, const std::string& alert_id);
[[nodiscard]] absl::StatusOr<std::vector<v1::OwedMessage>> MessagesUnder(
    Database& db, const std::string& prefix);
[[nodiscard]] absl::StatusOr<std::vector<v1::OwedMessage>> ToSend(
    Database& db, const ChannelKey& channel, const std::string& person,
    absl::Time time, int limit);
[[nodiscard]] absl::StatusOr<std::vector<OwedByChannel>> Owed(Database& db);
[[nodiscard]] absl::StatusOr<MessagePage> ListMessages(
    Database& db, const v1::ListOutboxRequest& request, int page_size,
    const SiteScope& scope);
[[nodiscard]] absl::StatusOr<std::vector<v1::DutyRecord>> Duties(Database& db);

}  // namespace turnstone::query
