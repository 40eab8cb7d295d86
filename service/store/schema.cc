#include "service/store/schema.h"

#include <absl/strings/str_cat.h>

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

#include "service/store/audit_log.h"

namespace turnstone {
namespace {

// "turn" in ASCII; marks the file as ours.
constexpr int64_t kApplicationId = 0x7475726e;

// Times are microseconds since 1970-01-01 00:00 UTC; the largest number is
// "never". BLOB columns hold messages of turnstone.v1.
constexpr char kFirstSchema[] = R"sql(
CREATE TABLE configuration (
  digest TEXT PRIMARY KEY,
  content BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE state (
  only_row INTEGER PRIMARY KEY CHECK (only_row = 1),
  now INTEGER NOT NULL,
  configuration TEXT REFERENCES configuration (digest)
) STRICT;
INSERT INTO state VALUES (1, -9223372036854775808, NULL);

CREATE TABLE event (
  sequence INTEGER PRIMARY KEY,
  source TEXT NOT NULL,
  event_id TEXT NOT NULL,
  site TEXT NOT NULL,
  participant TEXT NOT NULL,
  recorded INTEGER NOT NULL,
  recorded_by BLOB NOT NULL,
  content BLOB NOT NULL,
  alert_ids TEXT NOT NULL,
  UNIQUE (source, event_id)
) STRICT;
CREATE INDEX event_of_participant ON event (site, participant, sequence);

CREATE TABLE participant (
  site TEXT NOT NULL,
  participant TEXT NOT NULL,
  asked_until INTEGER NOT NULL,
  next_due INTEGER NOT NULL,
  PRIMARY KEY (site, participant)
) STRICT, WITHOUT ROWID;
CREATE INDEX participant_due ON participant (next_due);

CREATE TABLE alert (
  number INTEGER PRIMARY KEY,
  site TEXT NOT NULL,
  participant TEXT NOT NULL,
  kind INTEGER NOT NULL,
  priority INTEGER NOT NULL,
  status INTEGER NOT NULL,
  raised_at INTEGER NOT NULL,
  position INTEGER NOT NULL UNIQUE,
  content BLOB NOT NULL
) STRICT;
CREATE INDEX alert_in_order ON alert (priority DESC, raised_at, number);
CREATE INDEX alert_of_participant ON alert (site, participant, number);

CREATE TABLE audit (
  sequence INTEGER PRIMARY KEY,
  at INTEGER NOT NULL,
  actor BLOB NOT NULL,
  action TEXT NOT NULL,
  subject TEXT NOT NULL,
  detail TEXT NOT NULL
) STRICT;
)sql";

// What people are owed, and what they have agreed on among themselves. `alert`
// is 0 for a message about none; `next_attempt` is "never" unless it is owed.
constexpr char kOutboxSchema[] = R"sql(
CREATE TABLE outbox (
  key TEXT PRIMARY KEY,
  site TEXT NOT NULL,
  alert INTEGER NOT NULL,
  person TEXT NOT NULL,
  channel TEXT NOT NULL,
  priority INTEGER NOT NULL,
  status INTEGER NOT NULL,
  owed_since INTEGER NOT NULL,
  next_attempt INTEGER NOT NULL,
  content BLOB NOT NULL
) STRICT;
CREATE INDEX outbox_owed ON outbox (site, channel, next_attempt, owed_since)
  WHERE status = 1;
CREATE INDEX outbox_of_alert ON outbox (alert, status);
CREATE INDEX outbox_in_order ON outbox (owed_since, key);

CREATE TABLE duty (
  site TEXT PRIMARY KEY,
  content BLOB NOT NULL
) STRICT, WITHOUT ROWID;
)sql";

// Which versions of the rules there are, and what one in shadow would have
// raised: each verdict once.
constexpr char kVersionSchema[] = R"sql(
CREATE TABLE version (
  digest TEXT PRIMARY KEY REFERENCES configuration (digest),
  content BLOB NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE shadow (
  position INTEGER PRIMARY KEY,
  digest TEXT NOT NULL REFERENCES configuration (digest),
  site TEXT NOT NULL,
  participant TEXT NOT NULL,
  rule TEXT NOT NULL,
  event_source TEXT NOT NULL,
  event_id TEXT NOT NULL,
  corrected_by TEXT NOT NULL,
  due INTEGER NOT NULL,
  content BLOB NOT NULL,
  UNIQUE (digest, site, participant, rule, event_source, event_id,
          corrected_by, due)
) STRICT;
)sql";

// Open alerts are few among all there have ever been: those with a status up to
// ALERT_STATUS_ON_HOLD.
constexpr char kOpenSchema[] = R"sql(
CREATE INDEX alert_open ON alert (site, status) WHERE status <= 4;
)sql";

// Every record of the audit with its place in the chain (audit_chain.h), those
// written before too; and whose record it tells of. `sealed` is NULL until the
// participant is erased.
constexpr char kAuditSchema[] = R"sql(
ALTER TABLE audit RENAME TO audit_before;
CREATE TABLE audit (
  sequence INTEGER PRIMARY KEY,
  at INTEGER NOT NULL,
  actor BLOB NOT NULL,
  action TEXT NOT NULL,
  subject TEXT NOT NULL,
  site TEXT NOT NULL,
  participant TEXT NOT NULL,
  detail TEXT NOT NULL,
  salt BLOB NOT NULL,
  emptied TEXT NOT NULL,
  sealed BLOB,
  chain BLOB NOT NULL
) STRICT;
CREATE INDEX audit_of_participant ON audit (site, participant, sequence)
  WHERE participant <> '';
)sql";

struct Step {
  std::string script;
  // What SQL cannot do; after the script.
  absl::Status (*then)(Database& db) = nullptr;
};

absl::Status ChainAudit(Database& db) {
  absl::Status status = ChainOlderAudit(db);
  return status.ok() ? db.Script("DROP TABLE audit_before") : status;
}

// Step i takes a store from version i to i + 1. Released steps never change.
const std::vector<Step>& Steps() {
  static const auto& steps =
      *new std::vector<Step>{{kFirstSchema},
                             {kOutboxSchema},
                             {kVersionSchema},
                             {kOpenSchema},
                             {kAuditSchema, &ChainAudit}};
  return steps;
}

absl::Status NotOurs(const std::string& path) {
  return absl::FailedPreconditionError(
      absl::StrCat(path,
                   " is a database of some other program and was left as "
                   "it is: give turnstoned a folder of its own"));
}

}  // namespace

absl::StatusOr<int64_t> SchemaVersion(Database& db) {
  return ReadInt(db.Query("PRAGMA user_version"));
}

int64_t SchemaToday() { return static_cast<int64_t>(Steps().size()); }

absl::Status CheckSchema(Database& db) {
  const absl::StatusOr<int64_t> application =
      ReadInt(db.Query("PRAGMA application_id"));
  if (!application.ok()) return application.status();
  const absl::StatusOr<int64_t> version = SchemaVersion(db);
  if (!version.ok()) return version.status();
  const absl::StatusOr<int64_t> tables =
      ReadInt(db.Query("SELECT count(*) FROM sqlite_schema"));
  if (!tables.ok()) return tables.status();

  const bool empty = *application == 0 && *version == 0 && *tables == 0;
  if (empty) return absl::OkStatus();
  if (*application != kApplicationId || *version < 1) return NotOurs(db.path());
  const int64_t known = SchemaToday();
  if (*version > known) {
    return absl::FailedPreconditionError(absl::StrCat(
        db.path(), " was written by a newer turnstoned (schema ", *version,
        "; this one knows up to ", known,
        "): run the newer turnstoned, or restore a backup made before the "
        "upgrade"));
  }
  return absl::OkStatus();
}

absl::Status Migrate(Database& db) {
  const absl::StatusOr<int64_t> version = SchemaVersion(db);
  if (!version.ok()) return version.status();
  for (auto step = static_cast<size_t>(*version); step < Steps().size();
       ++step) {
    const auto& [script, then] = Steps()[step];
    const std::string version_now =
        absl::StrCat("PRAGMA application_id = ", kApplicationId,
                     ";PRAGMA user_version = ", step + 1, ";");
    absl::Status status = db.InTransaction([&, then = then, &script = script] {
      absl::Status done = db.Script(script);
      if (done.ok() && then != nullptr) done = then(db);
      return done.ok() ? db.Script(version_now) : done;
    });
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

}  // namespace turnstone
