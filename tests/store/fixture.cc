#include "tests/store/fixture.h"

#include <absl/strings/str_cat.h>
#include <sys/stat.h>

#include <cstdlib>
#include <filesystem>
#include <system_error>

#include "rules/measure/proto_time.h"

namespace turnstone {

StoreTest::StoreTest() {
  std::string pattern = testing::TempDir() + "turnstone-store-XXXXXX";
  root_ = mkdtemp(pattern.data());
  // So that a test may become an account without rights and still get here.
  std::filesystem::permissions(root_, std::filesystem::perms{0755});
}

StoreTest::~StoreTest() {
  store_.reset();
  std::filesystem::remove_all(root_);
}

void StoreTest::Open() {
  absl::StatusOr<std::unique_ptr<Store>> opened = OpenSqliteStore(folder());
  ASSERT_TRUE(opened.ok()) << opened.status();
  store_ = *std::move(opened);
}

std::vector<std::string> StoreTest::Raw(const std::string& sql) const {
  sqlite3* db = nullptr;
  EXPECT_EQ(sqlite3_open(database().c_str(), &db), SQLITE_OK);
  sqlite3_stmt* statement = nullptr;
  EXPECT_EQ(sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr),
            SQLITE_OK)
      << sqlite3_errmsg(db);
  std::vector<std::string> values;
  int code = SQLITE_ROW;
  while ((code = sqlite3_step(statement)) == SQLITE_ROW) {
    const unsigned char* text = sqlite3_column_text(statement, 0);
    values.emplace_back(reinterpret_cast<const char*>(text));
  }
  EXPECT_EQ(code, SQLITE_DONE) << sqlite3_errmsg(db);
  sqlite3_finalize(statement);
  sqlite3_close(db);
  return values;
}

absl::Time Noon() {
  return absl::FromCivil(absl::CivilHour(2031, 3, 4, 12), absl::UTCTimeZone());
}

StoredEvent MakeEvent(int64_t sequence, const std::string& event_id,
                      const std::string& participant) {
  StoredEvent stored;
  stored.sequence = sequence;
  stored.recorded = Noon() + absl::Microseconds(sequence);
  stored.recorded_by.set_name("Example Clinician");
  stored.event.set_source("urn:example:intake");
  stored.event.set_event_id(event_id);
  stored.event.set_site("harbour-row");
  stored.event.set_participant(participant);
  stored.event.mutable_visit_planned()->set_visit("visit-1");
  return stored;
}

v1::Alert MakeAlert(int number, absl::Time raised_at, v1::Priority priority) {
  v1::Alert alert;
  alert.set_alert_id(absl::StrCat("A-", number));
  alert.set_site("harbour-row");
  alert.set_participant("p-1");
  alert.set_kind(v1::ALERT_KIND_OUTREACH);
  alert.set_priority(priority);
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  *alert.mutable_raised_at() = ToProto(raised_at);
  alert.set_position(number);
  return alert;
}

AuditRecord MakeAudit(const std::string& subject) {
  AuditRecord record;
  record.at = Noon();
  record.by.set_name("Example Lead");
  record.action = "event accepted";
  record.subject = subject;
  record.detail = "by the intake system";
  return record;
}

WriteBatch MakeBatch(int number) {
  WriteBatch batch;
  const std::string name = absl::StrCat("e-", number);
  batch.events = {MakeEvent(number, name)};
  batch.events[0].alert_ids = {absl::StrCat("A-", number)};
  batch.participants = {{.key = {"harbour-row", absl::StrCat("p-", number)},
                         .asked_until = Noon(),
                         .next_due = Noon() + absl::Hours(number)}};
  batch.alerts = {MakeAlert(number, Noon())};
  batch.audit = {MakeAudit(name)};
  batch.now = Noon() + absl::Minutes(number);
  return batch;
}

unsigned ModeOf(const std::string& path) {
  struct stat info {};
  EXPECT_EQ(stat(path.c_str(), &info), 0) << path;
  return info.st_mode & 07777U;
}

size_t SizeOf(const std::string& path) {
  std::error_code error;
  const auto size = std::filesystem::file_size(path, error);
  return error ? 0 : size;
}

}  // namespace turnstone
