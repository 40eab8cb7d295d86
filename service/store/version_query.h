// Versions of the rules, what they contain, and what one in shadow has found;
// see store.h.
#pragma once

#include <absl/status/statusor.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone::query {

[[nodiscard]] absl::StatusOr<std::vector<v1::RuleVersion>> Versions(
    Database& db);
[[nodiscard]] absl::StatusOr<std::optional<v1::Configuration>>
FindConfiguration(Database& db, const std::string& digest);
[[nodiscard]] absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowAfter(
    Database& db, const std::string& digest, const std::string& site,
    int64_t position, int limit, const SiteScope& scope);
[[nodiscard]] absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowOf(
    Database& db, const std::string& digest, const ParticipantKey& key,
    const SiteScope& scope);

}  // namespace turnstone::query
