#include "service/core/verify_record.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <memory>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "rules/engine/decide.h"
#include "rules/measure/proto_time.h"
#include "service/core/configuration.h"
#include "service/core/lifecycle.h"
#include "service/core/participant.h"
#include "service/store/columns.h"
#include "service/store/sqlite_store.h"
#include "service/store/verify.h"

namespace turnstone {
namespace {

constexpr int kAtOnce = 256;

// With what a store's participants are loaded, and what must hold of them.
struct Measure {
  std::shared_ptr<const Setup> setup;
  std::shared_ptr<const Setup> shadow;
  // What was recorded, or fell due, later was decided by `setup`.
  absl::Time since;
  absl::Time now;
};

bool CameInForce(const v1::VersionChange& change) {
  static const auto& words =
      *new std::set<std::string>{"in force", "activated", "confirmed"};
  return words.contains(change.what());
}

// InfinitePast for the first configuration there was; InfiniteFuture if it is
// not on record.
absl::Time InForceSince(const std::vector<v1::RuleVersion>& versions) {
  absl::Time since = absl::InfiniteFuture();
  int times = 0;
  for (const v1::RuleVersion& version : versions) {
    if (version.status() == v1::VERSION_STATUS_RETIRED) times += 2;
    if (version.status() != v1::VERSION_STATUS_IN_FORCE) continue;
    for (const v1::VersionChange& change : version.history()) {
      if (!CameInForce(change)) continue;
      since = FromProto(change.at());
      ++times;
    }
  }
  return times == 1 ? absl::InfinitePast() : since;
}

absl::StatusOr<std::shared_ptr<const Setup>> SetupInShadow(
    Store& store, const std::vector<v1::RuleVersion>& versions) {
  for (const v1::RuleVersion& version : versions) {
    if (!version.has_shadow_since()) continue;
    const absl::StatusOr<std::optional<v1::Configuration>> content =
        store.FindConfiguration(version.digest());
    if (!content.ok()) return content.status();
    if (!content->has_value()) continue;
    return std::make_shared<const Setup>(**content, version.digest());
  }
  return std::shared_ptr<const Setup>();
}

// Absent: nothing is in force, so nobody can be on record.
absl::StatusOr<std::optional<Measure>> MeasureOf(Store& store) {
  const absl::StatusOr<Recovered> recovered = store.Recover();
  if (!recovered.ok()) return recovered.status();
  if (!recovered->configuration) return std::optional<Measure>();
  const absl::StatusOr<std::vector<v1::RuleVersion>> versions =
      store.Versions();
  if (!versions.ok()) return versions.status();
  absl::StatusOr<std::shared_ptr<const Setup>> shadow =
      SetupInShadow(store, *versions);
  if (!shadow.ok()) return shadow.status();
  const auto& [digest, content] = *recovered->configuration;
  return Measure{std::make_shared<const Setup>(content, digest),
                 *std::move(shadow), InForceSince(*versions),
                 recovered->last_now};
}

void CheckTimers(const ParticipantRow& row, const Participant& participant,
                 const std::string& place, const Measure& measure,
                 Verification& verification) {
  const absl::Time follows =
      FromColumn(DeadlineToColumn(participant.Row().next_due));
  // What is due already is asked as soon as the service starts.
  const bool asked_at_once = row.next_due <= measure.now;
  if (row.next_due != follows && !(asked_at_once && row.next_due < follows)) {
    verification.Add(
        {"BrokeOnTime", place,
         "the next deadline on record is not the one that follows from the "
         "events: start the service, have it read a configuration with a new "
         "site version (then everybody is asked anew), and verify again"});
  }
  if (row.asked_until > measure.now) {
    verification.Add({"BrokeOnTime", place,
                      "it is marked as asked in the future: report it; see to "
                      "the participant by hand"});
  }
}

std::string SourceAndId(const std::string& source,
                        const std::string& event_id) {
  return absl::StrCat(source, " ", event_id);
}

// When the fact the answer is about was given its present content.
absl::Time RecordedAt(const Answer& answer,
                      const std::vector<StoredEvent>& events) {
  const std::string key =
      answer.corrected_by.empty()
          ? SourceAndId(answer.fact.source, answer.fact.event_id)
          : answer.corrected_by;
  for (const StoredEvent& stored : events) {
    if (SourceAndId(stored.event.source(), stored.event.event_id()) == key) {
      return stored.recorded;
    }
  }
  return absl::InfinitePast();
}

// Decided by the configuration in force, at once or when it fell due.
bool DecidedByIt(const Answer& answer, const std::vector<StoredEvent>& events,
                 absl::Time since) {
  if (since == absl::InfinitePast()) return true;
  if (RecordedAt(answer, events) > since) return true;
  return answer.due > answer.effective && answer.due > since;
}

void CheckRaised(const std::vector<StoredEvent>& events,
                 Participant& participant, const std::string& place,
                 const Measure& measure, Verification& verification) {
  const History& history = participant.history();
  const Asking everything{absl::InfinitePast(), absl::InfinitePast(),
                          participant.Row().asked_until};
  for (const Answer& answer :
       Decide(participant.site(), history, participant.agenda(), everything)) {
    if (!answer.raise) continue;
    if (!DecidedByIt(answer, events, measure.since)) continue;
    const auto& alerts = participant.alerts();
    const bool held =
        std::any_of(alerts.begin(), alerts.end(), [&](const auto& one) {
          return one.second.rule().rule() == answer.rule->id() &&
                 Holds(one.second, answer);
        });
    if (held) continue;
    verification.Add({"BrokeRaises", place,
                      absl::StrCat("rule ", answer.rule->id(),
                                   " raises and no alert says so: look at the "
                                   "participant now; report it")});
  }
}

absl::Status LookAtParticipant(Store& store, const ParticipantRow& row,
                               const Measure& measure,
                               Verification& verification) {
  const absl::StatusOr<std::vector<StoredEvent>> events =
      store.EventsOf(row.key, SiteScope::All());
  if (!events.ok()) return events.status();
  // No name of a participant may be printed.
  const std::string place =
      events->empty()
          ? "a participant without events"
          : absl::StrCat("participant of event ", events->front().sequence);
  absl::StatusOr<Participant> participant =
      Participant::Load(store, *measure.setup, measure.shadow.get(), row.key);
  if (!participant.ok()) {
    verification.Add({"BrokeDeterministic", place,
                      std::string(participant.status().message())});
    return absl::OkStatus();
  }
  CheckTimers(row, *participant, place, measure, verification);
  CheckRaised(*events, *participant, place, measure, verification);
  return absl::OkStatus();
}

}  // namespace

absl::Status VerifyRecord(Store& store, Verification& verification) {
  verification.Begin("participants made anew from their events");
  const absl::StatusOr<std::optional<Measure>> measure = MeasureOf(store);
  if (!measure.ok()) return measure.status();
  if (!measure->has_value()) return absl::OkStatus();
  ParticipantKey key;
  while (true) {
    const absl::StatusOr<std::vector<ParticipantRow>> some =
        store.ParticipantsAfter(key, absl::InfiniteFuture(), kAtOnce);
    if (!some.ok()) return some.status();
    if (some->empty()) return absl::OkStatus();
    key = some->back().key;
    for (const ParticipantRow& row : *some) {
      verification.Count();
      absl::Status status =
          LookAtParticipant(store, row, **measure, verification);
      if (!status.ok()) return status;
    }
  }
}

absl::Status VerifyFolder(const std::string& folder,
                          Verification& verification) {
  absl::Status status = VerifyFile(folder, &DigestOf, verification);
  if (!status.ok() || !verification.ok()) return status;
  const absl::StatusOr<std::unique_ptr<Store>> store = OpenSqliteStore(folder);
  if (!store.ok()) return store.status();
  return VerifyRecord(**store, verification);
}

}  // namespace turnstone
