// Reading events, participants and the state to go on from. As the functions
// of the same name in Store.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone::query {

[[nodiscard]] absl::StatusOr<Recovered> Recover(Database& db);

[[nodiscard]] absl::StatusOr<std::optional<StoredEvent>> FindEvent(
    Database& db, const std::string& source, const std::string& event_id);

[[nodiscard]] absl::StatusOr<std::vector<StoredEvent>> EventsOf(
    Database& db, const ParticipantKey& key, const SiteScope& scope);

[[nodiscard]] absl::StatusOr<std::vector<StoredEvent>> EventsAfter(
    Database& db, const std::string& site, int64_t sequence, int limit,
    const SiteScope& scope);

[[nodiscard]] absl::StatusOr<int64_t> CountEvents(Database& db,
                                                  const std::string& site);

[[nodiscard]] absl::StatusOr<std::vector<ParticipantRow>> ParticipantsAfter(
    Database& db, const ParticipantKey& key, absl::Time before, int limit);

[[nodiscard]] absl::StatusOr<std::optional<ParticipantRow>> FindParticipant(
    Database& db, const ParticipantKey& key);

[[nodiscard]] absl::StatusOr<std::vector<ParticipantKey>> DueBy(
    Database& db, const std::string& site, absl::Time time, int limit,
    const SiteScope& scope);

[[nodiscard]] absl::StatusOr<absl::Time> NextDue(Database& db);

}  // namespace turnstone::query
