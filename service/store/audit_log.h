// The table of the audit: adding to it, emptying what it says of a participant,
// reading it.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>

#include <string>
#include <vector>

#include "service/store/audit_chain.h"
#include "service/store/sqlite_db.h"
#include "service/store/store.h"

namespace turnstone {

// Where the chain has got to; 0 and ChainBegin() for an empty audit.
[[nodiscard]] absl::StatusOr<AuditTip> ReadAuditTip(Database& db);

// Appends the records, in order; one that erases empties those before it.
// REQUIRES: in a transaction.
[[nodiscard]] absl::Status AppendAudit(Database& db,
                                       const std::vector<AuditRecord>& records);

// For the schema: gives every record of the table audit_before, which has the
// columns of schema 4, its place in the chain. REQUIRES: in a transaction.
[[nodiscard]] absl::Status ChainOlderAudit(Database& db);

// Columns of a row, in the order ReadAuditRow wants them.
inline constexpr char kAuditColumns[] =
    "sequence, at, actor, action, subject, site, participant, detail, salt, "
    "emptied, sealed, chain";
[[nodiscard]] AuditRow ReadAuditRow(const Statement& row);
// Of the row ReadAuditRow reads.
[[nodiscard]] std::string ReadChain(const Statement& row);

// Every record about the participant, in order. Those before the participant
// was last erased say nothing of them any more.
[[nodiscard]] absl::StatusOr<std::vector<AuditRecord>> AuditOf(
    Database& db, const ParticipantKey& key);

}  // namespace turnstone
