// What Core does so that the data are looked after: backups, and erasing what
// need not or must not be kept.
#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <utility>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "service/core/core.h"
#include "service/core/erasure.h"
#include "service/core/rights.h"

namespace turnstone {
namespace {

// A quarter of a megabyte: well under the time one commit takes.
constexpr int kPagesAtOnce = 64;
constexpr size_t kReasonMax = 200;
// Participants looked at in one round.
constexpr int kLookedAtInOneRound = 64;
constexpr absl::Duration kLookEvery = absl::Hours(24);

std::string FileName(absl::Time now, int64_t events) {
  return absl::StrCat(
      "turnstone-",
      absl::FormatTime("%Y%m%dT%H%M%SZ", now, absl::UTCTimeZone()), "-", events,
      ".db");
}

absl::Status CheckReason(const v1::EraseParticipantRequest& request) {
  if (request.reason().empty() || request.reason().size() > kReasonMax) {
    return absl::InvalidArgumentError(absl::StrCat(
        "reason: say why, in 1 to ", kReasonMax,
        " characters and without anything that identifies the participant"));
  }
  if (!request.participant().empty() &&
      absl::StrContains(request.reason(), request.participant())) {
    return absl::InvalidArgumentError(
        "reason: it names the participant and would stay on record; leave the "
        "id out");
  }
  return absl::OkStatus();
}

// InfinitePast: nobody is.
absl::Time ErasedIfDischargedBefore(const Site& site, absl::Time now) {
  const v1::Retention& retention = site.config.retention();
  if (!retention.has_after_discharge_days()) return absl::InfinitePast();
  return now - absl::Hours(24) * retention.after_discharge_days();
}

std::vector<std::string> OpenOnes(const std::vector<v1::Alert>& alerts) {
  std::vector<std::string> open;
  for (const v1::Alert& alert : alerts) {
    if (IsOpen(alert)) open.push_back(alert.alert_id());
  }
  return open;
}

}  // namespace

absl::Status Core::CheckMayBackUp(const Caller& caller) const {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  for (const auto& [id, site] : setup_->sites()) {
    absl::Status status =
        CheckMay(caller, v1::BACK_UP, "have a backup made", site);
    if (!status.ok()) return status;
  }
  return absl::OkStatus();
}

absl::Status Core::BeginBackUp(const std::string& path) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  return store_->BeginCopy(path);
}

absl::StatusOr<Core::BackUpStep> Core::GoOnBackingUp() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::StatusOr<CopyState> copy = store_->GoOnCopying(kPagesAtOnce);
  if (!copy.ok() || copy->whole) store_->EndCopy();
  if (!copy.ok()) return copy.status();
  BackUpStep step{*copy, {}};
  const int64_t events = next_sequence_ - 1;
  step.holds.set_file(FileName(Now(), events));
  step.holds.set_events(events);
  *step.holds.mutable_at() = ToProto(Now());
  return step;
}

absl::Status Core::RecordBackUp(const v1::Backup& backup, const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  Audit(by, "backup made", backup.file(), "");
  return Commit();
}

v1::Erasure Core::StageErasure(const v1::Actor& by, const std::string& why,
                               const ParticipantKey& key,
                               const std::vector<StoredEvent>& events,
                               const std::vector<v1::Alert>& alerts) {
  const std::string name =
      alerts.empty() ? "" : ErasedName(alerts.front().alert_id());
  staged_.erased.push_back({key, name});
  Audit(by, "participant erased", key.site, why);
  staged_.audit.back().erases = key;
  for (const v1::Alert& alert : alerts) {
    v1::Alert kept = Emptied(alert, name);
    StageAlert(kept);
  }
  v1::Erasure erasure;
  erasure.set_site(key.site);
  erasure.set_events(static_cast<int64_t>(events.size()));
  erasure.set_alerts(static_cast<int64_t>(alerts.size()));
  *erasure.mutable_at() = ToProto(Now());
  return erasure;
}

absl::Status Core::CommitErasures(const std::vector<ParticipantKey>& erased) {
  if (absl::Status status = Commit(); !status.ok()) return status;
  for (const ParticipantKey& key : erased) {
    participants_->Forget(key);
    looks_.Forget(key);
  }
  return absl::OkStatus();
}

absl::StatusOr<v1::Erasure> Core::EraseParticipant(
    const v1::EraseParticipantRequest& request, const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> site = SiteOrOnly(request.site());
  if (!site.ok()) return site.status();
  absl::Status status =
      CheckMay(by, v1::ERASE, "erase a participant", *setup_->FindSite(*site));
  if (!status.ok()) return status;
  status = CheckReason(request);
  if (!status.ok()) return status;
  const ParticipantKey key{*site, request.participant()};
  const absl::StatusOr<std::vector<StoredEvent>> events =
      KnownOf(key, SiteScope({key.site}));
  if (!events.ok()) return events.status();
  const absl::StatusOr<std::vector<v1::Alert>> alerts =
      store_->AlertsOf(key, SiteScope({key.site}));
  if (!alerts.ok()) return Break(alerts.status());
  const std::vector<std::string> open = OpenOnes(*alerts);
  if (!open.empty()) {
    return absl::FailedPreconditionError(absl::StrCat(
        "nothing was erased: ", absl::StrJoin(open, ", "),
        open.size() == 1 ? " is" : " are",
        " open, and somebody must see to that first; close it, then repeat "
        "the call"));
  }
  v1::Erasure erasure =
      StageErasure(by, request.reason(), key, *events, *alerts);
  status = CommitErasures({key});
  if (!status.ok()) return status;
  return erasure;
}

void Core::LookAtRetention() {
  const auto& sites = setup_->sites();
  const bool some = std::any_of(
      sites.begin(), sites.end(),
      [](const auto& one) { return one.second.config.has_retention(); });
  retention_at_ = some ? Now() : absl::InfiniteFuture();
  retention_from_ = {};
}

void Core::StageExpired() {
  for (const auto& [id, site] : setup_->sites()) {
    const v1::Retention& retention = site.config.retention();
    if (!retention.has_messages_days()) continue;
    staged_.expired.push_back(
        {id, Now() - absl::Hours(24) * retention.messages_days()});
    Audit(ServiceActor(), "old messages deleted", id, "retention");
  }
}

absl::StatusOr<bool> Core::StageIfExpired(const ParticipantKey& key) {
  const Site* const site = setup_->FindSite(key.site);
  if (site == nullptr) return false;
  const absl::Time before = ErasedIfDischargedBefore(*site, Now());
  const absl::StatusOr<std::vector<StoredEvent>> events =
      store_->EventsOf(key, SiteScope::All());
  if (!events.ok()) return Break(events.status());
  absl::StatusOr<Participant*> participant = participants_->Get(key);
  if (!participant.ok()) return Break(participant.status());
  if (events->empty() || events->back().recorded >= before ||
      DischargedAt((*participant)->history()) >= before) {
    return false;
  }
  std::vector<v1::Alert> alerts;
  for (const auto& [number, alert] : (*participant)->alerts()) {
    alerts.push_back(alert);
  }
  if (!OpenOnes(alerts).empty()) return false;
  (void)StageErasure(ServiceActor(), "retention", key, *events, alerts);
  return true;
}

absl::Status Core::KeepToRetention() {
  if (Now() < retention_at_) return absl::OkStatus();
  const bool begins = retention_from_ == ParticipantKey();
  absl::Time before = absl::InfinitePast();
  for (const auto& [id, site] : setup_->sites()) {
    before = std::max(before, ErasedIfDischargedBefore(site, Now()));
  }
  const absl::StatusOr<std::vector<ParticipantRow>> some =
      store_->ParticipantsAfter(retention_from_, before, kLookedAtInOneRound);
  if (!some.ok()) return Break(some.status());
  if (begins) StageExpired();
  std::vector<ParticipantKey> erased;
  for (const ParticipantRow& row : *some) {
    const absl::StatusOr<bool> staged = StageIfExpired(row.key);
    if (!staged.ok()) return staged.status();
    if (*staged) erased.push_back(row.key);
  }
  if (absl::Status status = CommitErasures(erased); !status.ok()) return status;
  if (some->size() == kLookedAtInOneRound) {
    retention_from_ = some->back().key;
  } else {
    retention_from_ = {};
    retention_at_ = Now() + kLookEvery;
  }
  return absl::OkStatus();
}

}  // namespace turnstone
