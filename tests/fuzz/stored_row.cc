#include <cstdlib>

#include "clients/cli/render/alert_page.h"
#include "clients/cli/render/outbox_page.h"
#include "clients/cli/render/version_page.h"
#include "rules/replay/replay.h"
#include "service/store/alert_query.h"
#include "service/store/audit_log.h"
#include "service/store/message_query.h"
#include "service/store/record_query.h"
#include "service/store/schema.h"
#include "service/store/verify.h"
#include "service/store/version_query.h"
#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"
#include "tests/support/shipped.h"

namespace turnstone::fuzz {
namespace {

constexpr char kBase[] =
    "PRAGMA foreign_keys = OFF;"
    "INSERT INTO state VALUES (1, 0, 'd') ON CONFLICT (only_row) DO UPDATE "
    "SET configuration = 'd';";

// One row for each kind of message that is kept, its content to be given.
const std::vector<std::string>& Rows() {
  static const auto& rows = *new std::vector<std::string>{
      R"(event VALUES (1, 's', 'e', 'pebble-bay', 'p', 0, x'', ?, 'A-1 A-2'))",
      R"(event VALUES (1, 's', 'e', 'pebble-bay', 'p', 0, ?, x'', ''))",
      R"(alert VALUES (1, 'pebble-bay', 'p', 1, 4, 1, 0, 1, ?))",
      R"(outbox VALUES
         ('A-1/1/x/mail', 'pebble-bay', 1, 'x', 'mail', 4, 1, 0, 0, ?))",
      R"(duty VALUES ('pebble-bay', ?))",
      R"(configuration VALUES ('d', ?))",
      R"(version VALUES ('d', ?))",
      R"(shadow VALUES (1, 'd', 'pebble-bay', 'p', 'r', 's', 'e', '', 0, ?))",
      R"(audit VALUES (1, 0, ?, 'a', 's', 'pebble-bay', 'p', 'd', x'', '', NULL,
                       x''))",
      R"(audit VALUES (4611686018427387904, 0, x'', 'a', 's', '', '', '', x'',
                       CAST(? AS TEXT), NULL, x''))",
  };
  return rows;
}

// In memory, with our tables and nothing in them.
Database& Tables() {
  static Database& db = *[] {
    auto opened = Database::Open(":memory:");
    Promise(
        opened.ok() && Migrate(**opened).ok() && (*opened)->Script(kBase).ok(),
        "tables in memory");
    return opened->release();
  }();
  return db;
}

void Shown(const std::string& page) {
  Promise(page.find('\x1b') == std::string::npos, "no escape is shown");
}

// An error of reading names what is to be done.
template <typename Value>
bool Readable(const absl::StatusOr<Value>& read) {
  Promise(read.ok() || absl::IsDataLoss(read.status()),
          "what cannot be read is said to be lost");
  return read.ok();
}

void ReadEvents(Database& db) {
  static const auto& setup = *new Setup(ShippedSetup());
  const auto events =
      query::EventsOf(db, {"pebble-bay", "p"}, SiteScope::All());
  if (!Readable(events)) return;
  const absl::Time now = absl::FromUnixSeconds(kNowSeconds);
  Replay replay(setup, setup, "pebble-bay", {});
  for (const StoredEvent& stored : *events) {
    replay.Take(stored.event, now).IgnoreError();
  }
  static_cast<void>(replay.Finish());
}

void ReadAlerts(Database& db) {
  const absl::Time now = absl::FromUnixSeconds(kNowSeconds);
  const auto alerts =
      query::AlertsOf(db, {"pebble-bay", "p"}, SiteScope::All());
  if (!Readable(alerts)) return;
  for (const v1::Alert& alert : *alerts) Shown(cli::AlertPage(alert, now));
}

void ReadMessages(Database& db) {
  auto page = query::ListMessages(db, {}, 100, SiteScope::All());
  if (!Readable(page)) return;
  v1::Outbox outbox;
  for (const v1::OwedMessage& message : page->messages) {
    *outbox.add_message() = message;
  }
  Shown(cli::OutboxPage(outbox));
}

void ReadVersions(Database& db) {
  const auto versions = query::Versions(db);
  if (!Readable(versions)) return;
  v1::VersionList list;
  for (const v1::RuleVersion& version : *versions) {
    *list.add_version() = version;
  }
  Shown(cli::VersionsPage(list));
}

void ReadAudit(Database& db) {
  static_cast<void>(Readable(AuditOf(db, {"pebble-bay", "p"})));
  Verification verification(nullptr);
  Promise(VerifyAudit(db, {}, verification).ok(), "an audit can be verified");
}

void ReadEverything(Database& db) {
  ReadEvents(db);
  ReadAlerts(db);
  ReadMessages(db);
  ReadVersions(db);
  ReadAudit(db);
  static_cast<void>(Readable(query::Recover(db)));
  static_cast<void>(Readable(query::Duties(db)));
  static_cast<void>(Readable(
      query::ShadowOf(db, "d", {"pebble-bay", "p"}, SiteScope::All())));
}

}  // namespace

int StoredRow(const uint8_t* data, size_t size) {
  if (size == 0) return 0;
  Database& db = Tables();
  const Blob content{
      std::string(reinterpret_cast<const char*>(data) + 1, size - 1)};
  // Taken back, so that the next finds the tables empty.
  const absl::Status done = db.InTransaction([&] {
    absl::Status put =
        db.Run("INSERT INTO " + Rows()[data[0] % Rows().size()], content);
    Promise(put.ok(), std::string(put.message()));
    ReadEverything(db);
    return absl::CancelledError("taken back");
  });
  Promise(absl::IsCancelled(done), std::string(done.message()));
  return 0;
}

}  // namespace turnstone::fuzz
