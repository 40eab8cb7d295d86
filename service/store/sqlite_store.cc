#include "service/store/sqlite_store.h"

#include <absl/status/status.h>
#include <absl/strings/str_cat.h>

#include <utility>

#include "service/store/alert_query.h"
#include "service/store/audit_log.h"
#include "service/store/copy.h"
#include "service/store/erase.h"
#include "service/store/message_query.h"
#include "service/store/pragmas.h"
#include "service/store/record_query.h"
#include "service/store/schema.h"
#include "service/store/sqlite_db.h"
#include "service/store/store_folder.h"
#include "service/store/version_query.h"
#include "service/store/write_batch.h"

namespace turnstone {
namespace {

// About 16 MB: long enough to be rare, and for pages that change often to be
// merged once for many times; short enough to be quick.
constexpr int kMergeLogFromPages = 4000;

class SqliteStore final : public Store {
 public:
  SqliteStore(std::unique_ptr<StoreFolder> folder, std::unique_ptr<Database> db)
      : folder_(std::move(folder)), db_(std::move(db)) {}

  absl::Status Commit(const WriteBatch& batch) override;

  absl::StatusOr<Recovered> Recover() override { return Ask(&query::Recover); }
  absl::StatusOr<std::optional<StoredEvent>> FindEvent(
      const std::string& source, const std::string& event_id) override {
    return Ask(&query::FindEvent, source, event_id);
  }
  absl::StatusOr<std::vector<StoredEvent>> EventsOf(
      const ParticipantKey& key, const SiteScope& scope) override {
    return Ask(&query::EventsOf, key, scope);
  }
  absl::StatusOr<std::vector<v1::Alert>> AlertsOf(
      const ParticipantKey& key, const SiteScope& scope) override {
    return Ask(&query::AlertsOf, key, scope);
  }
  absl::StatusOr<std::vector<ParticipantRow>> ParticipantsAfter(
      const ParticipantKey& key, absl::Time before, int limit) override {
    return Ask(&query::ParticipantsAfter, key, before, limit);
  }
  absl::StatusOr<std::optional<ParticipantRow>> FindParticipant(
      const ParticipantKey& key) override {
    return Ask(&query::FindParticipant, key);
  }
  absl::StatusOr<std::vector<ParticipantKey>> DueBy(
      const std::string& site, absl::Time time, int limit,
      const SiteScope& scope) override {
    return Ask(&query::DueBy, site, time, limit, scope);
  }
  absl::StatusOr<absl::Time> NextDue() override { return Ask(&query::NextDue); }
  absl::StatusOr<std::optional<v1::Alert>> FindAlert(
      const std::string& alert_id, const SiteScope& scope) override {
    return Ask(&query::FindAlert, alert_id, scope);
  }
  absl::StatusOr<OpenCount> CountOpen() override {
    return Ask(&query::CountOpen);
  }
  absl::StatusOr<AlertPage> ListAlerts(const v1::ListAlertsRequest& request,
                                       int page_size,
                                       const SiteScope& scope) override {
    return Ask(&query::ListAlerts, request, page_size, scope);
  }
  absl::StatusOr<std::vector<v1::Alert>> AlertsAfterPosition(
      const std::string& site, int64_t position, int limit,
      const SiteScope& scope) override {
    return Ask(&query::AlertsAfterPosition, site, position, limit, scope);
  }
  absl::StatusOr<std::vector<v1::Alert>> AlertsRaised(
      const std::string& site, absl::Time from, absl::Time to,
      const SiteScope& scope) override {
    return Ask(&query::AlertsRaised, site, from, to, scope);
  }
  absl::StatusOr<std::optional<v1::OwedMessage>> FindMessage(
      const std::string& key) override {
    return Ask(&query::FindMessage, key);
  }
  absl::StatusOr<std::vector<v1::OwedMessage>> OwedOf(
      const std::string& alert_id) override {
    return Ask(&query::OwedOf, alert_id);
  }
  absl::StatusOr<std::vector<v1::OwedMessage>> MessagesUnder(
      const std::string& prefix) override {
    return Ask(&query::MessagesUnder, prefix);
  }
  absl::StatusOr<std::vector<v1::OwedMessage>> ToSend(const ChannelKey& channel,
                                                      const std::string& person,
                                                      absl::Time time,
                                                      int limit) override {
    return Ask(&query::ToSend, channel, person, time, limit);
  }
  absl::StatusOr<std::vector<OwedByChannel>> Owed() override {
    return Ask(&query::Owed);
  }
  absl::StatusOr<MessagePage> ListMessages(const v1::ListOutboxRequest& request,
                                           int page_size,
                                           const SiteScope& scope) override {
    return Ask(&query::ListMessages, request, page_size, scope);
  }
  absl::StatusOr<std::vector<v1::DutyRecord>> Duties() override {
    return Ask(&query::Duties);
  }
  absl::StatusOr<std::vector<v1::RuleVersion>> Versions() override {
    return Ask(&query::Versions);
  }
  absl::StatusOr<std::optional<v1::Configuration>> FindConfiguration(
      const std::string& digest) override {
    return Ask(&query::FindConfiguration, digest);
  }
  absl::StatusOr<std::vector<StoredEvent>> EventsAfter(
      const std::string& site, int64_t sequence, int limit,
      const SiteScope& scope) override {
    return Ask(&query::EventsAfter, site, sequence, limit, scope);
  }
  absl::StatusOr<int64_t> CountEvents(const std::string& site) override {
    return Ask(&query::CountEvents, site);
  }
  absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowAfter(
      const std::string& digest, const std::string& site, int64_t position,
      int limit, const SiteScope& scope) override {
    return Ask(&query::ShadowAfter, digest, site, position, limit, scope);
  }
  absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowOf(
      const std::string& digest, const ParticipantKey& key,
      const SiteScope& scope) override {
    return Ask(&query::ShadowOf, digest, key, scope);
  }
  absl::StatusOr<AuditTip> GetAuditTip() override { return Ask(&ReadAuditTip); }
  absl::StatusOr<std::vector<AuditRecord>> AuditOf(
      const ParticipantKey& key) override {
    return Ask(&turnstone::AuditOf, key);
  }
  absl::Status BeginCopy(const std::string& path) override;
  absl::StatusOr<CopyState> GoOnCopying(int pages) override;
  void EndCopy() override { copy_ = nullptr; }

 private:
  // What `query` answers, unless a Commit failed before.
  template <typename Answer, typename... Declared, typename... Given>
  Answer Ask(Answer (*query)(Database&, Declared...), const Given&... given) {
    if (!stopped_.ok()) return stopped_;
    return query(*db_, given...);
  }

  // Copies the log into the database file. A full disk is no error: nothing is
  // lost, the log only goes on growing, and this is tried again later.
  absl::Status Merge();
  absl::Status Stop(const absl::Status& cause);

  // In this order: the lock is let go after the database is closed.
  std::unique_ptr<StoreFolder> folder_;
  std::unique_ptr<Database> db_;
  std::unique_ptr<Copy> copy_;  // null: none is being made
  // Something was erased of which bytes may still be in the files.
  bool must_make_anew_ = false;
  // Length of the log, in pages, from which on it is merged.
  int merge_from_ = kMergeLogFromPages;
  // Why every call is refused; OK until a Commit fails.
  absl::Status stopped_;
};

absl::Status SqliteStore::Commit(const WriteBatch& batch) {
  if (!stopped_.ok()) return stopped_;
  absl::Status status =
      db_->InTransaction([this, &batch] { return Write(*db_, batch); });
  if (absl::IsResourceExhausted(status) && !db_->TransactionOpen()) {
    // A log that is merged is written from its beginning again: room for the
    // next try.
    absl::Status merged = Merge();
    return merged.ok() ? status : Stop(merged);
  }
  const bool erased = status.ok() && !batch.erased.empty();
  if (erased) {
    must_make_anew_ = true;
    // A copy that was begun before may hold it.
    copy_ = nullptr;
  }
  if (status.ok() && (erased || db_->log_pages() >= merge_from_)) {
    status = Merge();
  }
  return status.ok() ? status : Stop(status);
}

absl::Status SqliteStore::Merge() {
  absl::Status status = must_make_anew_ ? MakeAnew(*db_) : absl::OkStatus();
  if (status.ok()) status = db_->MergeLog(/*empty=*/must_make_anew_);
  if (!status.ok() && !absl::IsResourceExhausted(status)) return status;
  if (status.ok()) must_make_anew_ = false;
  merge_from_ = kMergeLogFromPages;
  if (!status.ok()) merge_from_ += db_->log_pages();
  return absl::OkStatus();
}

absl::Status SqliteStore::Stop(const absl::Status& cause) {
  db_->MergeOnClose(false);
  stopped_ = absl::UnavailableError(
      absl::StrCat("the store stopped after a failed write; mend the cause and "
                   "restart turnstoned. The cause: ",
                   std::string(cause.message())));
  return cause;
}

absl::Status SqliteStore::BeginCopy(const std::string& path) {
  if (!stopped_.ok()) return stopped_;
  copy_ = nullptr;
  absl::StatusOr<std::unique_ptr<Copy>> copy = Copy::Begin(*db_, path);
  if (!copy.ok()) return copy.status();
  copy_ = *std::move(copy);
  return absl::OkStatus();
}

absl::StatusOr<CopyState> SqliteStore::GoOnCopying(int pages) {
  if (!stopped_.ok()) return stopped_;
  if (copy_ == nullptr) {
    return absl::FailedPreconditionError(
        "the backup was given up, for a participant was erased meanwhile: have "
        "another one made");
  }
  const absl::StatusOr<bool> whole = copy_->GoOn(pages);
  if (!whole.ok()) return whole.status();
  return CopyState{copy_->bytes(), copy_->bytes_total(), *whole};
}

absl::Status MakeReady(Database& db) {
  absl::Status status = SetConnectionPragmas(db);
  if (status.ok()) status = CheckSchema(db);
  if (status.ok()) status = SetLogPragmas(db);
  // A log left by a crash may hold a transaction whose sync failed and that
  // only the system's cache still knows. Nothing is built on it, nor shown of
  // it, before it is on disk: written once more, and only then merged, for a
  // power cut in the middle of merging leaves the log to mend the file with.
  if (status.ok()) status = db.WriteLogAgain();
  if (status.ok()) status = Migrate(db);
  if (status.ok()) status = db.MergeLog(/*empty=*/true);
  if (status.ok()) db.MergeOnClose(true);
  return status;
}

}  // namespace

absl::StatusOr<std::unique_ptr<Store>> OpenSqliteStore(
    const std::string& folder) {
  absl::StatusOr<std::unique_ptr<StoreFolder>> held = StoreFolder::Open(folder);
  if (!held.ok()) return held.status();
  absl::StatusOr<std::unique_ptr<Database>> db =
      Database::Open((*held)->database_path());
  if (!db.ok()) return db.status();
  absl::Status status = MakeReady(**db);
  if (!status.ok()) return status;
  return std::make_unique<SqliteStore>(*std::move(held), *std::move(db));
}

}  // namespace turnstone
