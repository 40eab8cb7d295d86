#include "service/store/record_query.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_split.h>

#include <utility>

#include "service/store/columns.h"
#include "service/store/scope_query.h"

namespace turnstone::query {
namespace {

constexpr char kSelectEvent[] =
    "SELECT sequence, recorded, recorded_by, content, alert_ids, site FROM "
    "event ";

absl::StatusOr<StoredEvent> ReadEvent(const Statement& row) {
  StoredEvent stored;
  stored.sequence = row.Int(0);
  stored.recorded = FromColumn(row.Int(1));
  const std::string what = absl::StrCat("event ", stored.sequence);
  absl::Status status = ParseColumn(row.Bytes(2), what, &stored.recorded_by);
  if (!status.ok()) return status;
  status = ParseColumn(row.Bytes(3), what, &stored.event);
  if (!status.ok()) return status;
  stored.alert_ids = absl::StrSplit(row.Bytes(4), ' ', absl::SkipEmpty());
  stored.erased = row.Bytes(3).empty();
  if (stored.erased) stored.event.set_site(row.Bytes(5));
  return stored;
}

absl::StatusOr<ParticipantRow> ReadParticipant(const Statement& row) {
  return ParticipantRow{.key = {row.Bytes(0), row.Bytes(1)},
                        .asked_until = FromColumn(row.Int(2)),
                        .next_due = FromColumn(row.Int(3))};
}

absl::StatusOr<ParticipantKey> ReadKey(const Statement& row) {
  return ParticipantKey{row.Bytes(0), row.Bytes(1)};
}

absl::StatusOr<Recovered> ReadRecovered(const Statement& row) {
  Recovered recovered;
  recovered.last_sequence = row.Int(0);
  recovered.last_alert_number = row.Int(1);
  recovered.last_position = row.Int(2);
  recovered.last_now = FromColumn(row.Int(3));
  if (row.IsNull(4)) return recovered;
  v1::Configuration content;
  absl::Status status =
      ParseColumn(row.Bytes(5), "the configuration in force", &content);
  if (!status.ok()) return status;
  recovered.configuration.emplace(row.Bytes(4), std::move(content));
  return recovered;
}

}  // namespace

absl::StatusOr<Recovered> Recover(Database& db) {
  absl::StatusOr<std::optional<Recovered>> recovered = ReadOne(
      db.Query("SELECT (SELECT coalesce(max(sequence), 0) FROM event), "
               "(SELECT coalesce(max(number), 0) FROM alert), "
               "(SELECT coalesce(max(position), 0) FROM alert), "
               "now, digest, content FROM state LEFT JOIN configuration "
               "ON digest = state.configuration"),
      &ReadRecovered);
  if (!recovered.ok()) return recovered.status();
  if (!recovered->has_value()) {
    return absl::DataLossError(
        absl::StrCat(db.path(), " lacks its row of state: restore a backup"));
  }
  return **std::move(recovered);
}

absl::StatusOr<std::optional<StoredEvent>> FindEvent(
    Database& db, const std::string& source, const std::string& event_id) {
  return ReadOne(
      db.Query(absl::StrCat(kSelectEvent, "WHERE source = ? AND event_id = ?"),
               source, event_id),
      &ReadEvent);
}

absl::StatusOr<std::vector<StoredEvent>> EventsOf(Database& db,
                                                  const ParticipantKey& key,
                                                  const SiteScope& scope) {
  return ReadAll(
      db.Query(
          absl::StrCat(kSelectEvent, "WHERE site = ?1 AND participant = ?2",
                       AndInScope(scope, "?3"), "ORDER BY sequence"),
          key.site, key.participant, ScopeParameter(scope)),
      &ReadEvent);
}

absl::StatusOr<std::vector<StoredEvent>> EventsAfter(Database& db,
                                                     const std::string& site,
                                                     int64_t sequence,
                                                     int limit,
                                                     const SiteScope& scope) {
  return ReadAll(db.Query(absl::StrCat(kSelectEvent,
                                       "WHERE sequence > ?1 AND site = ?2 AND "
                                       "participant <> ''",
                                       AndInScope(scope, "?4"),
                                       "ORDER BY sequence LIMIT ?3"),
                          sequence, site, limit, ScopeParameter(scope)),
                 &ReadEvent);
}

absl::StatusOr<int64_t> CountEvents(Database& db, const std::string& site) {
  return ReadInt(db.Query(
      "SELECT count(*) FROM event WHERE site = ? AND participant <> ''", site));
}

absl::StatusOr<std::vector<ParticipantRow>> ParticipantsAfter(
    Database& db, const ParticipantKey& key, absl::Time before, int limit) {
  return ReadAll(
      db.Query(
          "SELECT site, participant, asked_until, next_due FROM "
          "participant AS p WHERE (site, participant) > (?, ?) AND "
          "coalesce((SELECT recorded FROM event AS e WHERE e.site = p.site "
          "AND e.participant = p.participant ORDER BY sequence DESC "
          "LIMIT 1), -9223372036854775808) < ? ORDER BY site, participant "
          "LIMIT ?",
          key.site, key.participant, ToColumn(before), limit),
      &ReadParticipant);
}

absl::StatusOr<std::optional<ParticipantRow>> FindParticipant(
    Database& db, const ParticipantKey& key) {
  return ReadOne(db.Query("SELECT site, participant, asked_until, next_due "
                          "FROM participant WHERE site = ? AND participant = ?",
                          key.site, key.participant),
                 &ReadParticipant);
}

absl::StatusOr<std::vector<ParticipantKey>> DueBy(Database& db,
                                                  const std::string& site,
                                                  absl::Time time, int limit,
                                                  const SiteScope& scope) {
  // What is never due is not due at the end of time either.
  return ReadAll(
      db.Query(absl::StrCat("SELECT site, participant FROM participant WHERE "
                            "next_due <= ?1 AND next_due < 9223372036854775807 "
                            "AND (?2 = '' OR site = ?2)",
                            AndInScope(scope, "?4"),
                            "ORDER BY next_due, site, participant LIMIT ?3"),
               ToColumn(time), site, limit, ScopeParameter(scope)),
      &ReadKey);
}

absl::StatusOr<absl::Time> NextDue(Database& db) {
  const absl::StatusOr<int64_t> soonest = ReadInt(db.Query(
      "SELECT coalesce(min(next_due), 9223372036854775807) FROM participant"));
  if (!soonest.ok()) return soonest.status();
  return FromColumn(*soonest);
}

}  // namespace turnstone::query
