#include "service/store/write_batch.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "rules/measure/proto_time.h"
#include "service/store/alert_id.h"
#include "service/store/audit_log.h"
#include "service/store/columns.h"
#include "service/store/erase.h"

namespace turnstone {
namespace {

absl::Status Refused(const std::string& why) {
  return absl::InternalError(
      absl::StrCat("nothing was written: ", why,
                   ". This is a mistake in turnstoned: please report it"));
}

absl::Status KeepConfiguration(Database& db, const std::string& digest,
                               const v1::Configuration& configuration) {
  const std::string content = configuration.SerializeAsString();
  absl::Status status =
      db.Run("INSERT INTO configuration VALUES (?, ?) ON CONFLICT DO NOTHING",
             digest, Blob{content});
  if (!status.ok()) return status;
  const absl::StatusOr<std::string> kept = ReadText(
      db.Query("SELECT content FROM configuration WHERE digest = ?", digest));
  if (!kept.ok()) return kept.status();
  if (*kept != content) {
    return Refused(absl::StrCat("configuration ", digest,
                                " is already kept with other content"));
  }
  return absl::OkStatus();
}

absl::Status WriteConfigurations(Database& db, const WriteBatch& batch) {
  absl::Status status = absl::OkStatus();
  if (batch.proposed) {
    status =
        KeepConfiguration(db, batch.proposed->first, batch.proposed->second);
  }
  if (!status.ok() || !batch.configuration) return status;
  const auto& [digest, content] = *batch.configuration;
  status = KeepConfiguration(db, digest, content);
  if (!status.ok()) return status;
  return db.Run("UPDATE state SET configuration = ?", digest);
}

absl::Status WriteVersion(Database& db, const v1::RuleVersion& version) {
  return db.Run("INSERT OR REPLACE INTO version VALUES (?, ?)",
                version.digest(), Blob{version.SerializeAsString()});
}

absl::Status WriteVerdict(Database& db, const v1::ShadowVerdict& verdict) {
  const v1::Occurrence& reason = verdict.occurrence();
  return db.Run(
      "INSERT OR IGNORE INTO shadow SELECT coalesce(max(position), 0) + 1, "
      "?, ?, ?, ?, ?, ?, ?, ?, ? FROM shadow",
      verdict.digest(), verdict.site(), verdict.participant(), verdict.rule(),
      reason.event_source(), reason.event_id(), reason.corrected_by(),
      ToColumn(FromProto(reason.due())), Blob{verdict.SerializeAsString()});
}

absl::Status WriteEvent(Database& db, const StoredEvent& stored) {
  for (const std::string& id : stored.alert_ids) {
    if (!AlertNumber(id).has_value()) {
      return Refused(absl::StrCat("\"", id, "\" is no alert id"));
    }
  }
  return db.Run("INSERT INTO event VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
                stored.sequence, stored.event.source(), stored.event.event_id(),
                stored.event.site(), stored.event.participant(),
                ToColumn(stored.recorded),
                Blob{stored.recorded_by.SerializeAsString()},
                Blob{stored.event.SerializeAsString()},
                absl::StrJoin(stored.alert_ids, " "));
}

absl::Status WriteEvents(Database& db, const std::vector<StoredEvent>& events) {
  absl::StatusOr<int64_t> last =
      ReadInt(db.Query("SELECT coalesce(max(sequence), 0) FROM event"));
  if (!last.ok()) return last.status();
  for (const StoredEvent& stored : events) {
    if (stored.sequence != ++*last) {
      return Refused(absl::StrCat("event sequence ", stored.sequence,
                                  " came where ", *last, " is next"));
    }
    absl::Status status = WriteEvent(db, stored);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::Status WriteParticipant(Database& db, const ParticipantRow& row) {
  return db.Run("INSERT OR REPLACE INTO participant VALUES (?, ?, ?, ?)",
                row.key.site, row.key.participant, ToColumn(row.asked_until),
                DeadlineToColumn(row.next_due));
}

absl::Status WriteAlert(Database& db, const v1::Alert& alert) {
  const std::optional<int64_t> number = AlertNumber(alert.alert_id());
  if (!number.has_value()) {
    return Refused(absl::StrCat("\"", alert.alert_id(), "\" is no alert id"));
  }
  absl::Status status = db.Run(
      "INSERT INTO alert VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?) "
      "ON CONFLICT (number) DO UPDATE SET kind = excluded.kind, "
      "priority = excluded.priority, status = excluded.status, "
      "raised_at = excluded.raised_at, position = excluded.position, "
      "content = excluded.content "
      "WHERE site = excluded.site AND participant = excluded.participant",
      *number, alert.site(), alert.participant(), alert.kind(),
      alert.priority(), alert.status(), ToColumn(FromProto(alert.raised_at())),
      alert.position(), Blob{alert.SerializeAsString()});
  if (!status.ok()) return status;
  if (db.RowsChanged() != 1) {  // BrokeScope
    return Refused(
        absl::StrCat(alert.alert_id(), " belongs to another participant"));
  }
  return absl::OkStatus();
}

absl::Status WriteMessage(Database& db, const v1::OwedMessage& message) {
  const bool owed = message.status() == v1::MESSAGE_STATUS_OWED;
  return db.Run(
      "INSERT OR REPLACE INTO outbox VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
      message.key(), message.site(),
      AlertNumber(message.alert_id()).value_or(0), message.person(),
      message.channel(), message.priority(), message.status(),
      ToColumn(FromProto(message.owed_since())),
      DeadlineToColumn(owed ? FromProto(message.next_attempt_at())
                            : absl::InfiniteFuture()),
      Blob{message.SerializeAsString()});
}

absl::Status WriteDuty(Database& db, const v1::DutyRecord& duty) {
  return db.Run("INSERT OR REPLACE INTO duty VALUES (?, ?)", duty.site(),
                Blob{duty.SerializeAsString()});
}

template <typename Record>
absl::Status WriteEach(Database& db, const std::vector<Record>& records,
                       absl::Status (*write)(Database&, const Record&)) {
  for (const Record& record : records) {
    absl::Status status = write(db, record);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

}  // namespace

absl::Status Write(Database& db, const WriteBatch& batch) {
  absl::Status status = WriteEach(db, batch.erased, &EraseParticipant);
  if (status.ok()) status = WriteEach(db, batch.expired, &DeleteExpired);
  if (status.ok()) status = WriteEvents(db, batch.events);
  if (status.ok()) {
    status = WriteEach(db, batch.participants, &WriteParticipant);
  }
  if (status.ok()) status = WriteEach(db, batch.alerts, &WriteAlert);
  if (status.ok()) status = WriteEach(db, batch.messages, &WriteMessage);
  if (status.ok()) status = WriteEach(db, batch.duties, &WriteDuty);
  if (status.ok()) status = AppendAudit(db, batch.audit);
  if (status.ok()) status = WriteConfigurations(db, batch);
  if (status.ok()) status = WriteEach(db, batch.versions, &WriteVersion);
  if (status.ok()) status = WriteEach(db, batch.shadow, &WriteVerdict);
  if (status.ok() && batch.all_due_at.has_value()) {
    status = db.Run("UPDATE participant SET next_due = ?",
                    DeadlineToColumn(*batch.all_due_at));
  }
  if (!status.ok()) return status;
  return db.Run("UPDATE state SET now = max(now, ?)", ToColumn(batch.now));
}

}  // namespace turnstone
