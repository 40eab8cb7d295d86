// What must be remembered, and nothing of how. SQLite and, later, PostgreSQL
// stand behind this.
//
// Queries with a scope answer as if there were no rows of other sites.
//
// Single-thread: the commit thread owns the Store; nobody else calls it.
#pragma once

#include <absl/status/status.h>
#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <cstdint>
#include <optional>
#include <string>
#include <tuple>
#include <vector>

#include "service/store/site_scope.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/delivery.pb.h"
#include "turnstone/v1/duty.pb.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/service.pb.h"
#include "turnstone/v1/site.pb.h"
#include "turnstone/v1/version.pb.h"

namespace turnstone {

struct ParticipantKey {
  std::string site;
  std::string participant;
  friend auto operator<=>(const ParticipantKey&,
                          const ParticipantKey&) = default;
};

// A channel of a site.
struct ChannelKey {
  std::string site;
  std::string channel;
  friend auto operator<=>(const ChannelKey&, const ChannelKey&) = default;
};

// An accepted event with the answer that was given for it.
struct StoredEvent {
  int64_t sequence = 0;  // dense, from 1
  absl::Time recorded;
  v1::Actor recorded_by;
  v1::Event event;
  std::vector<std::string> alert_ids;  // as first answered
  // The participant was erased: `event` has no more than its site, and
  // `recorded_by` is empty.
  bool erased = false;
};

// What the timers need to know of a participant.
struct ParticipantRow {
  ParticipantKey key;
  // Questions due up to here have been asked.
  absl::Time asked_until;
  // When the next question falls due; InfiniteFuture if none does.
  absl::Time next_due;
};

struct AuditRecord {
  absl::Time at;
  v1::Actor by;
  std::string action;   // "event accepted", "alert closed", ...
  std::string subject;  // alert id, event id, configuration digest
  std::string detail;   // never a score or an answer
  // Whose record somebody saw or worked on; either may be empty. Participant
  // and detail go when the participant is erased, where there is one.
  ParticipantKey about = {};
  // Set where it tells of an erasure: what the audit says of the participant up
  // to here is emptied with it.
  std::optional<ParticipantKey> erases = {};
};

// How far the audit has got: the last record's number and digest.
struct AuditTip {
  int64_t sequence = 0;
  std::string chain;
};

// A participant whose record is to be emptied.
struct Erased {
  ParticipantKey key;
  // Takes the participant's place on their alerts.
  std::string as;
};

// What a site no longer keeps.
struct Expired {
  std::string site;
  absl::Time before;
};

// One transaction.
struct WriteBatch {
  // Before everything else in the batch; what the audit says of them goes with
  // an AuditRecord that erases. Rows of events and alerts stay; the
  // alerts' new content is to be among `alerts`. Their messages and verdicts
  // go.
  std::vector<Erased> erased;
  // Messages that need not be sent and were owed before then, and verdicts of
  // shadow due before then, are deleted.
  std::vector<Expired> expired;
  std::vector<StoredEvent> events;           // new
  std::vector<ParticipantRow> participants;  // inserted or replaced
  std::vector<v1::Alert> alerts;          // inserted or replaced, by alert_id
  std::vector<v1::OwedMessage> messages;  // inserted or replaced, by key
  std::vector<v1::DutyRecord> duties;     // inserted or replaced, by site
  std::vector<v1::RuleVersion> versions;  // inserted or replaced, by digest
  // Inserted, with the next position, unless the same verdict is there.
  std::vector<v1::ShadowVerdict> shadow;
  std::vector<AuditRecord> audit;  // appended
  // Set to keep a configuration without putting it in force.
  std::optional<std::pair<std::string, v1::Configuration>> proposed;
  // Set to make this the configuration in force.
  std::optional<std::pair<std::string, v1::Configuration>> configuration;
  // Set with `configuration`: every participant falls due at this time, so
  // that new rules get their timers.
  std::optional<absl::Time> all_due_at;
  // The service's time at this commit; never goes backwards.
  absl::Time now;
};

// What a service needs to go on after a restart.
struct Recovered {
  int64_t last_sequence = 0;
  int64_t last_alert_number = 0;
  int64_t last_position = 0;
  absl::Time last_now = absl::InfinitePast();
  // Digest and content in force; absent on a new store.
  std::optional<std::pair<std::string, v1::Configuration>> configuration;
};

// How far a copy has come.
struct CopyState {
  int64_t bytes = 0;
  int64_t bytes_total = 0;
  bool whole = false;
};

// What is owed by one channel.
struct OwedByChannel {
  ChannelKey channel;
  int64_t messages = 0;
  absl::Time oldest_since;
  absl::Time next_attempt;  // the soonest
};

// Alerts that nobody has ended.
struct OpenCount {
  int64_t open = 0;
  int64_t requested = 0;  // of these, nobody has received
};

struct MessagePage {
  std::vector<v1::OwedMessage> messages;
  int64_t total = 0;
};

struct AlertPage {
  std::vector<v1::Alert> alerts;
  std::string next_page_token;  // empty: no more
  int64_t total = 0;
};

class Store {
 public:
  virtual ~Store() = default;

  // Everything in `batch`, or nothing. OK only after it is on disk.
  // RESOURCE_EXHAUSTED: there is no room; nothing has changed. On any other
  // error the caller must stop using the store: whether the batch survives is
  // known only after reopening. BrokeDurable.
  [[nodiscard]] virtual absl::Status Commit(const WriteBatch& batch) = 0;

  [[nodiscard]] virtual absl::StatusOr<Recovered> Recover() = 0;

  // Absent if there is no such event.
  [[nodiscard]] virtual absl::StatusOr<std::optional<StoredEvent>> FindEvent(
      const std::string& source, const std::string& event_id) = 0;

  // In order of sequence.
  [[nodiscard]] virtual absl::StatusOr<std::vector<StoredEvent>> EventsOf(
      const ParticipantKey& key, const SiteScope& scope) = 0;

  // In order of alert number.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::Alert>> AlertsOf(
      const ParticipantKey& key, const SiteScope& scope) = 0;

  // Participants behind `key` by site, then participant, of whom nothing was
  // recorded from `before` on; at most `limit`.
  [[nodiscard]] virtual absl::StatusOr<std::vector<ParticipantRow>>
  ParticipantsAfter(const ParticipantKey& key, absl::Time before,
                    int limit) = 0;

  // Absent if the participant has no row.
  [[nodiscard]] virtual absl::StatusOr<std::optional<ParticipantRow>>
  FindParticipant(const ParticipantKey& key) = 0;

  // Participants with next_due <= `time`, soonest first, at most `limit`;
  // `site` empty: of every site.
  [[nodiscard]] virtual absl::StatusOr<std::vector<ParticipantKey>> DueBy(
      const std::string& site, absl::Time time, int limit,
      const SiteScope& scope) = 0;

  // Soonest next_due of all; InfiniteFuture if there is none.
  [[nodiscard]] virtual absl::StatusOr<absl::Time> NextDue() = 0;

  [[nodiscard]] virtual absl::StatusOr<std::optional<v1::Alert>> FindAlert(
      const std::string& alert_id, const SiteScope& scope) = 0;

  [[nodiscard]] virtual absl::StatusOr<OpenCount> CountOpen() = 0;

  // By priority (highest first), then raised_at (oldest first), then alert
  // number. INVALID_ARGUMENT for a page token that is not ours.
  [[nodiscard]] virtual absl::StatusOr<AlertPage> ListAlerts(
      const v1::ListAlertsRequest& request, int page_size,
      const SiteScope& scope) = 0;

  // Alerts whose position is above `position`, by position, at most `limit`;
  // `site` empty: of every site.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::Alert>>
  AlertsAfterPosition(const std::string& site, int64_t position, int limit,
                      const SiteScope& scope) = 0;

  // Alerts of the site raised within [from, to), in order of alert number.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::Alert>> AlertsRaised(
      const std::string& site, absl::Time from, absl::Time to,
      const SiteScope& scope) = 0;

  // Absent if there is no such message.
  [[nodiscard]] virtual absl::StatusOr<std::optional<v1::OwedMessage>>
  FindMessage(const std::string& key) = 0;

  // Owed messages of the alert.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::OwedMessage>> OwedOf(
      const std::string& alert_id) = 0;

  // Every message whose key begins with `prefix` and a slash.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::OwedMessage>>
  MessagesUnder(const std::string& prefix) = 0;

  // Owed messages whose next attempt is due by `time`, most pressing first,
  // then longest due, at most `limit`; `person` empty: to anybody.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::OwedMessage>> ToSend(
      const ChannelKey& channel, const std::string& person, absl::Time time,
      int limit) = 0;

  [[nodiscard]] virtual absl::StatusOr<std::vector<OwedByChannel>> Owed() = 0;

  // Oldest first.
  [[nodiscard]] virtual absl::StatusOr<MessagePage> ListMessages(
      const v1::ListOutboxRequest& request, int page_size,
      const SiteScope& scope) = 0;

  // Of every site that has one.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::DutyRecord>>
  Duties() = 0;

  // Every version on record, in order of digest.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::RuleVersion>>
  Versions() = 0;

  // A configuration that is or was in force, or was proposed; absent if there
  // is none with that digest.
  [[nodiscard]] virtual absl::StatusOr<std::optional<v1::Configuration>>
  FindConfiguration(const std::string& digest) = 0;

  // Events of the site with a higher sequence, in order, at most `limit`; those
  // of participants who were erased are left out, here and in the count.
  [[nodiscard]] virtual absl::StatusOr<std::vector<StoredEvent>> EventsAfter(
      const std::string& site, int64_t sequence, int limit,
      const SiteScope& scope) = 0;
  [[nodiscard]] virtual absl::StatusOr<int64_t> CountEvents(
      const std::string& site) = 0;

  // Verdicts of the version with a higher position, in order, at most `limit`;
  // `site` empty: of every site.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::ShadowVerdict>>
  ShadowAfter(const std::string& digest, const std::string& site,
              int64_t position, int limit, const SiteScope& scope) = 0;
  // Every verdict of the version about one participant.
  [[nodiscard]] virtual absl::StatusOr<std::vector<v1::ShadowVerdict>> ShadowOf(
      const std::string& digest, const ParticipantKey& key,
      const SiteScope& scope) = 0;

  [[nodiscard]] virtual absl::StatusOr<AuditTip> GetAuditTip() = 0;
  // What the audit says of the participant, in order.
  [[nodiscard]] virtual absl::StatusOr<std::vector<AuditRecord>> AuditOf(
      const ParticipantKey& key) = 0;

  // A copy of everything into a new file at `path`, made a part at a time; what
  // is committed meanwhile goes into it too. One at a time: the one before is
  // forgotten. An error spoils the copy and nothing else.
  [[nodiscard]] virtual absl::Status BeginCopy(const std::string& path) = 0;
  // Up to `pages` more. FAILED_PRECONDITION if none has begun.
  [[nodiscard]] virtual absl::StatusOr<CopyState> GoOnCopying(int pages) = 0;
  // Lets go of the file, which stays.
  virtual void EndCopy() = 0;
};

}  // namespace turnstone
