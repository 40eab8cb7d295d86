#include "service/store/version_query.h"

#include <absl/strings/str_cat.h>

#include "service/store/columns.h"
#include "service/store/scope_query.h"

namespace turnstone::query {
namespace {

constexpr char kSelectShadow[] = "SELECT content, position FROM shadow ";

absl::StatusOr<v1::RuleVersion> ReadVersion(const Statement& row) {
  v1::RuleVersion version;
  absl::Status status = ParseColumn(
      row.Bytes(0), absl::StrCat("version ", row.Bytes(1)), &version);
  if (!status.ok()) return status;
  return version;
}

absl::StatusOr<v1::Configuration> ReadConfiguration(const Statement& row) {
  v1::Configuration content;
  absl::Status status = ParseColumn(
      row.Bytes(0), absl::StrCat("configuration ", row.Bytes(1)), &content);
  if (!status.ok()) return status;
  return content;
}

absl::StatusOr<v1::ShadowVerdict> ReadVerdict(const Statement& row) {
  v1::ShadowVerdict verdict;
  absl::Status status =
      ParseColumn(row.Bytes(0), absl::StrCat("verdict ", row.Int(1)), &verdict);
  if (!status.ok()) return status;
  verdict.set_position(row.Int(1));
  return verdict;
}

}  // namespace

absl::StatusOr<std::vector<v1::RuleVersion>> Versions(Database& db) {
  return ReadAll(
      db.Query("SELECT content, digest FROM version ORDER BY digest"),
      &ReadVersion);
}

absl::StatusOr<std::optional<v1::Configuration>> FindConfiguration(
    Database& db, const std::string& digest) {
  return ReadOne(
      db.Query("SELECT content, digest FROM configuration WHERE digest = ?",
               digest),
      &ReadConfiguration);
}

absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowAfter(
    Database& db, const std::string& digest, const std::string& site,
    int64_t position, int limit, const SiteScope& scope) {
  return ReadAll(
      db.Query(
          absl::StrCat(kSelectShadow,
                       "WHERE digest = ?1 AND position > ?2 AND "
                       "participant <> '' AND (?3 = '' OR site = ?3)",
                       AndInScope(scope, "?5"), "ORDER BY position LIMIT ?4"),
          digest, position, site, limit, ScopeParameter(scope)),
      &ReadVerdict);
}

absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowOf(
    Database& db, const std::string& digest, const ParticipantKey& key,
    const SiteScope& scope) {
  return ReadAll(
      db.Query(absl::StrCat(kSelectShadow,
                            "WHERE digest = ?1 AND site = ?2 AND "
                            "participant = ?3",
                            AndInScope(scope, "?4"), "ORDER BY position"),
               digest, key.site, key.participant, ScopeParameter(scope)),
      &ReadVerdict);
}

}  // namespace turnstone::query
