#include "service/store/audit_log.h"

#include <absl/strings/str_cat.h>
#include <openssl/rand.h>

#include <set>
#include <utility>

#include "service/store/audit_numbers.h"
#include "service/store/columns.h"

namespace turnstone {
namespace {

constexpr size_t kSaltBytes = 16;

absl::StatusOr<std::string> NewSalt() {
  std::string salt(kSaltBytes, '\0');
  const bool done = RAND_bytes(reinterpret_cast<unsigned char*>(salt.data()),
                               static_cast<int>(salt.size())) == 1;
  if (done) return salt;
  return absl::InternalError("the machine gives no random numbers");
}

absl::Status Append(Database& db, const AuditRow& row, AuditTip& tip) {
  tip.chain = ChainAfter(tip.chain, row);
  tip.sequence = row.sequence;
  return db.Run(
      "INSERT INTO audit VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, NULL, ?)",
      row.sequence, row.at, Blob{row.actor}, row.action, row.subject, row.site,
      row.participant, row.detail, Blob{row.salt}, row.emptied,
      Blob{tip.chain});
}

// Takes what the audit says of the participant out of it; the numbers of the
// records that said something.
absl::StatusOr<std::set<int64_t>> EmptyAuditOf(Database& db,
                                               const ParticipantKey& key) {
  const absl::StatusOr<std::vector<AuditRow>> rows = ReadAll<AuditRow>(
      db.Query(absl::StrCat("SELECT ", kAuditColumns,
                            " FROM audit WHERE site = ? AND participant = ? "
                            "AND participant <> ''"),
               key.site, key.participant),
      [](const Statement& row) -> absl::StatusOr<AuditRow> {
        return ReadAuditRow(row);
      });
  if (!rows.ok()) return rows.status();
  std::set<int64_t> emptied;
  for (const AuditRow& row : *rows) {
    absl::Status status = db.Run(
        "UPDATE audit SET participant = '', detail = '', salt = x'', "
        "sealed = ? WHERE sequence = ?",
        Blob{SealOf(row)}, row.sequence);
    if (!status.ok()) return status;
    emptied.insert(row.sequence);
  }
  return emptied;
}

absl::StatusOr<AuditRow> RowOf(Database& db, const AuditRecord& record,
                               int64_t sequence) {
  AuditRow row;
  row.sequence = sequence;
  row.at = ToColumn(record.at);
  row.actor = record.by.SerializeAsString();
  row.action = record.action;
  row.subject = record.subject;
  row.site = record.about.site;
  row.participant = record.about.participant;
  row.detail = record.detail;
  if (!row.participant.empty()) {
    absl::StatusOr<std::string> salt = NewSalt();
    if (!salt.ok()) return salt.status();
    row.salt = *std::move(salt);
  }
  if (record.erases) {
    const absl::StatusOr<std::set<int64_t>> emptied =
        EmptyAuditOf(db, *record.erases);
    if (!emptied.ok()) return emptied.status();
    row.emptied = NumbersToText(*emptied);
  }
  return row;
}

absl::StatusOr<AuditRecord> ReadRecord(const Statement& statement) {
  const AuditRow row = ReadAuditRow(statement);
  AuditRecord record;
  record.at = FromColumn(row.at);
  absl::Status status =
      ParseColumn(row.actor, absl::StrCat("audit ", row.sequence), &record.by);
  if (!status.ok()) return status;
  record.action = row.action;
  record.subject = row.subject;
  record.detail = row.detail;
  record.about = {row.site, row.participant};
  return record;
}

}  // namespace

absl::StatusOr<AuditTip> ReadAuditTip(Database& db) {
  Statement last = db.Query(
      "SELECT sequence, chain FROM audit ORDER BY sequence DESC LIMIT 1");
  const absl::StatusOr<bool> some = last.Step();
  if (!some.ok()) return some.status();
  if (!*some) return AuditTip{0, ChainBegin()};
  return AuditTip{last.Int(0), last.Bytes(1)};
}

absl::Status AppendAudit(Database& db,
                         const std::vector<AuditRecord>& records) {
  if (records.empty()) return absl::OkStatus();
  absl::StatusOr<AuditTip> tip = ReadAuditTip(db);
  if (!tip.ok()) return tip.status();
  for (const AuditRecord& record : records) {
    const absl::StatusOr<AuditRow> row = RowOf(db, record, tip->sequence + 1);
    if (!row.ok()) return row.status();
    absl::Status status = Append(db, *row, *tip);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::Status ChainOlderAudit(Database& db) {
  AuditTip tip{0, ChainBegin()};
  Statement older = db.Query(
      "SELECT sequence, at, actor, action, subject, detail FROM audit_before "
      "ORDER BY sequence");
  while (true) {
    const absl::StatusOr<bool> more = older.Step();
    if (!more.ok()) return more.status();
    if (!*more) return absl::OkStatus();
    AuditRow row;
    row.sequence = older.Int(0);
    row.at = older.Int(1);
    row.actor = older.Bytes(2);
    row.action = older.Bytes(3);
    row.subject = older.Bytes(4);
    row.detail = older.Bytes(5);
    absl::Status status = Append(db, row, tip);
    if (!status.ok()) return status;
  }
}

AuditRow ReadAuditRow(const Statement& row) {
  AuditRow read;
  read.sequence = row.Int(0);
  read.at = row.Int(1);
  read.actor = row.Bytes(2);
  read.action = row.Bytes(3);
  read.subject = row.Bytes(4);
  read.site = row.Bytes(5);
  read.participant = row.Bytes(6);
  read.detail = row.Bytes(7);
  read.salt = row.Bytes(8);
  read.emptied = row.Bytes(9);
  if (!row.IsNull(10)) read.sealed = row.Bytes(10);
  return read;
}

std::string ReadChain(const Statement& row) { return row.Bytes(11); }

absl::StatusOr<std::vector<AuditRecord>> AuditOf(Database& db,
                                                 const ParticipantKey& key) {
  return ReadAll<AuditRecord>(
      db.Query(absl::StrCat("SELECT ", kAuditColumns,
                            " FROM audit WHERE site = ? AND participant = ? "
                            "AND participant <> '' ORDER BY sequence"),
               key.site, key.participant),
      &ReadRecord);
}

}  // namespace turnstone
