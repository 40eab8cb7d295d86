#include "service/core/core.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <google/protobuf/util/message_differencer.h>

#include <algorithm>

#include "rules/check/event_check.h"
#include "rules/measure/proto_time.h"
#include "service/core/configuration.h"
#include "service/core/participant_view.h"

namespace turnstone {
namespace {

v1::SubmitResponse AnswerFor(const StoredEvent& stored, bool repeated) {
  v1::SubmitResponse response;
  *response.mutable_recorded_time() = ToProto(stored.recorded);
  response.set_sequence(stored.sequence);
  for (const std::string& id : stored.alert_ids) response.add_alert_id(id);
  response.set_repeated_submission(repeated);
  return response;
}

}  // namespace

Core::Core(std::unique_ptr<Store> store, const Clock& clock,
           CoreOptions options)
    : store_(std::move(store)), clock_(clock), options_(options) {}

absl::Time Core::Now() {
  now_ = std::max(now_, clock_.Now());
  return now_;
}

absl::Status Core::CheckUsable() const {
  if (!broken_) return absl::OkStatus();
  return absl::UnavailableError(
      "the service has stopped accepting after a failed write and must be "
      "restarted; the result of earlier calls is not known, repeat them then");
}

absl::Status Core::Break(const absl::Status& status) {
  broken_ = true;
  return absl::UnavailableError(
      absl::StrCat("the result is not known, repeat the call after the service "
                   "was restarted: ",
                   status.message()));
}

absl::StatusOr<Core::StartReport> Core::Start(
    const std::optional<v1::Configuration>& configuration) {
  absl::StatusOr<Recovered> recovered = store_->Recover();
  if (!recovered.ok()) return recovered.status();
  next_sequence_ = recovered->last_sequence + 1;
  next_alert_number_ = recovered->last_alert_number + 1;
  position_ = recovered->last_position;
  now_ = recovered->last_now;
  StartReport report;
  report.events = recovered->last_sequence;
  if (recovered->configuration) {
    auto& [digest, content] = *recovered->configuration;
    configuration_ = content;
    setup_ = std::make_shared<const Setup>(content, digest);
    participants_ = std::make_unique<ParticipantCache>(
        *store_, setup_, options_.participants_in_memory_max);
  }
  if (configuration) {
    const std::string before = setup_ == nullptr ? "" : setup_->digest();
    absl::Status status = Activate(*configuration);
    if (!status.ok()) return status;
    report.configuration_changed = before != setup_->digest();
  } else if (setup_ == nullptr) {
    return absl::FailedPreconditionError(
        "there is no configuration to start with: mend the files, then start "
        "again");
  } else {
    report.used_last_good = true;
  }
  return report;
}

absl::Status Core::Activate(const v1::Configuration& configuration) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const std::string digest = DigestOf(configuration);
  if (setup_ != nullptr && setup_->digest() == digest) return absl::OkStatus();
  if (configuration_) {
    absl::Status status = CheckSuccessor(*configuration_, configuration);
    if (!status.ok()) return status;
  }
  staged_.configuration = {digest, configuration};
  staged_.all_due_at = Now();
  Audit(ServiceActor(), "configuration activated", digest, "");
  if (absl::Status status = Commit(); !status.ok()) return status;
  configuration_ = configuration;
  setup_ = std::make_shared<const Setup>(configuration, digest);
  participants_ = std::make_unique<ParticipantCache>(
      *store_, setup_, options_.participants_in_memory_max);
  return absl::OkStatus();
}

absl::StatusOr<std::optional<v1::SubmitResponse>> Core::AnsweredBefore(
    const v1::Event& event) {
  std::optional<StoredEvent> before;
  const auto staged = staged_events_.find({event.source(), event.event_id()});
  if (staged != staged_events_.end()) {
    before = staged_.events[staged->second];
  } else {
    auto found = store_->FindEvent(event.source(), event.event_id());
    if (!found.ok()) return Break(found.status());
    before = *std::move(found);
  }
  if (!before) return std::optional<v1::SubmitResponse>();
  if (!google::protobuf::util::MessageDifferencer::Equals(before->event,
                                                          event)) {
    return absl::AlreadyExistsError(absl::StrCat(
        "eventId: \"", event.event_id(), "\" from source \"", event.source(),
        "\" was accepted before with other content; nothing was changed. Send "
        "a new fact under a new eventId, or a correction of this one"));
  }
  return std::optional(AnswerFor(*before, true));
}

absl::StatusOr<v1::SubmitResponse> Core::StageSubmit(const v1::Event& event,
                                                     const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::optional<v1::SubmitResponse>> before =
      AnsweredBefore(event);
  if (!before.ok()) return before.status();
  if (before->has_value()) return **before;
  const absl::Time now = Now();
  if (absl::Status status = CheckEvent(event, *setup_, now); !status.ok()) {
    return status;
  }
  absl::StatusOr<Participant*> participant =
      participants_->Get({event.site(), event.participant()});
  if (!participant.ok()) return Break(participant.status());
  const absl::StatusOr<Participant::Effects> effects =
      (*participant)->TakeIn(event, *setup_, now, next_alert_number_);
  if (!effects.ok()) return effects.status();

  StoredEvent stored{next_sequence_++, now, by, event, effects->raised};
  stored.alert_ids.insert(stored.alert_ids.end(), effects->changed.begin(),
                          effects->changed.end());
  staged_events_[{event.source(), event.event_id()}] = staged_.events.size();
  staged_.events.push_back(stored);
  Audit(by, "event accepted",
        absl::StrCat(event.source(), " ", event.event_id()), "");
  StageEffects(**participant, *effects);
  return AnswerFor(stored, false);
}

absl::StatusOr<Core::Resolved> Core::ResolveAlert(const std::string& alert_id) {
  absl::StatusOr<std::optional<v1::Alert>> stored = store_->FindAlert(alert_id);
  if (!stored.ok()) return Break(stored.status());
  if (!stored->has_value()) {
    return absl::NotFoundError(
        absl::StrCat("there is no alert \"", alert_id,
                     "\"; list them to see the ids in use, e.g. A-17"));
  }
  absl::StatusOr<Participant*> participant =
      participants_->Get({(*stored)->site(), (*stored)->participant()});
  if (!participant.ok()) return Break(participant.status());
  return Resolved{*participant, (*participant)->FindAlert(alert_id)};
}

absl::StatusOr<v1::Alert> Core::StageReceive(
    const v1::ReceiveAlertRequest& request, const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<Resolved> found = ResolveAlert(request.alert_id());
  if (!found.ok()) return found.status();
  v1::Alert& alert = *found->second;
  const int before = alert.history_size();
  absl::Status status = Receive(by, request.note(), Now(), alert);
  if (!status.ok()) return status;
  if (alert.history_size() > before) StageAlert(alert, by, "alert received");
  return alert;
}

absl::StatusOr<v1::Alert> Core::StageClose(const v1::CloseAlertRequest& request,
                                           const v1::Actor& by) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<Resolved> found = ResolveAlert(request.alert_id());
  if (!found.ok()) return found.status();
  v1::Alert& alert = *found->second;
  absl::Status status = Close(by, request.outcome(), request.note(),
                              found->first->site(), Now(), alert);
  if (!status.ok()) return status;
  StageAlert(alert, by, "alert closed");
  return alert;
}

void Core::StageClockMoved(const v1::Actor& by) {
  Audit(by, "simulated clock moved",
        absl::FormatTime(Now(), absl::UTCTimeZone()), "");
}

absl::StatusOr<Core::DueReport> Core::StageDue(int limit) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const absl::Time now = Now();
  absl::StatusOr<std::vector<ParticipantKey>> due = store_->DueBy(now, limit);
  if (!due.ok()) return Break(due.status());
  DueReport report;
  for (const ParticipantKey& key : *due) {
    absl::StatusOr<Participant*> participant = participants_->Get(key);
    if (!participant.ok()) return Break(participant.status());
    const ParticipantRow row = (*participant)->Row();
    if (row.next_due <= now) {
      report.latest = std::max(report.latest, now - row.next_due);
    }
    const Participant::Effects effects =
        (*participant)->PassTime(*setup_, now, next_alert_number_);
    report.alerts_raised += static_cast<int>(effects.raised.size());
    ++report.participants;
    StageEffects(**participant, effects);
  }
  return report;
}

void Core::StageEffects(Participant& participant,
                        const Participant::Effects& effects) {
  for (const std::string& id : effects.raised) {
    StageAlert(*participant.FindAlert(id), ServiceActor(), "alert raised");
  }
  for (const std::string& id : effects.changed) {
    StageAlert(*participant.FindAlert(id), ServiceActor(), "alert changed");
  }
  staged_rows_[participant.key()] = participant.Row();
}

void Core::StageAlert(v1::Alert& alert, const v1::Actor& by,
                      const std::string& action) {
  alert.set_position(++position_);
  staged_alerts_[alert.alert_id()] = alert;
  Audit(by, action, alert.alert_id(), alert.rule().rule());
}

void Core::Audit(const v1::Actor& by, const std::string& action,
                 const std::string& subject, const std::string& detail) {
  staged_.audit.push_back({Now(), by, action, subject, detail});
}

absl::Status Core::Commit() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  for (auto& [key, row] : staged_rows_) staged_.participants.push_back(row);
  for (auto& [id, alert] : staged_alerts_) staged_.alerts.push_back(alert);
  const bool empty = staged_.events.empty() && staged_.participants.empty() &&
                     staged_.alerts.empty() && staged_.audit.empty();
  staged_.now = Now();
  const absl::Status status =
      empty ? absl::OkStatus() : store_->Commit(staged_);
  staged_ = WriteBatch();
  staged_events_.clear();
  staged_alerts_.clear();
  staged_rows_.clear();
  if (!status.ok()) return Break(status);
  if (participants_ != nullptr) participants_->Trim();
  return absl::OkStatus();
}

absl::StatusOr<std::string> Core::SiteOrOnly(const std::string& site) const {
  const auto& sites = setup_->sites();
  if (site.empty() && sites.size() == 1) return sites.begin()->first;
  if (setup_->FindSite(site) != nullptr) return site;
  if (site.empty()) {
    return absl::InvalidArgumentError(
        "site: missing; this service has more than one, say which");
  }
  return absl::NotFoundError(
      absl::StrCat("site: \"", site, "\" is not configured here"));
}

absl::StatusOr<v1::ListAlertsResponse> Core::ListAlerts(
    const v1::ListAlertsRequest& request) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  const int page_size = request.has_page_size() ? request.page_size() : 100;
  if (page_size < 1 || page_size > 500) {
    return absl::InvalidArgumentError("pageSize: must be 1 to 500");
  }
  v1::ListAlertsRequest filter = request;
  if (!request.site().empty() || !request.participant().empty()) {
    absl::StatusOr<std::string> site = SiteOrOnly(request.site());
    if (!site.ok()) return site.status();
    filter.set_site(*site);
  }
  absl::StatusOr<AlertPage> page = store_->ListAlerts(filter, page_size);
  if (!page.ok()) return page.status();
  v1::ListAlertsResponse response;
  for (v1::Alert& alert : page->alerts) {
    *response.add_alert() = std::move(alert);
  }
  response.set_next_page_token(page->next_page_token);
  response.set_total(page->total);
  *response.mutable_now() = ToProto(Now());
  return response;
}

absl::StatusOr<v1::Alert> Core::GetAlert(const std::string& alert_id) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<Resolved> found = ResolveAlert(alert_id);
  if (!found.ok()) return found.status();
  return *found->second;
}

absl::StatusOr<std::vector<v1::Alert>> Core::AlertsAfter(
    const std::string& site, int64_t position, int limit) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  // A follower with a mistyped site would otherwise wait in silence for ever.
  if (!site.empty()) {
    absl::StatusOr<std::string> known = SiteOrOnly(site);
    if (!known.ok()) return known.status();
  }
  return store_->AlertsAfterPosition(site, position, limit);
}

absl::StatusOr<v1::ParticipantView> Core::GetParticipant(
    const v1::GetParticipantRequest& request) {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  absl::StatusOr<std::string> site = SiteOrOnly(request.site());
  if (!site.ok()) return site.status();
  const ParticipantKey key{*site, request.participant()};
  absl::StatusOr<std::vector<StoredEvent>> events = store_->EventsOf(key);
  if (!events.ok()) return Break(events.status());
  if (events->empty()) {
    return absl::NotFoundError(
        absl::StrCat("participant: nothing is known of \"",
                     request.participant(), "\" at ", *site, "; check the id"));
  }
  absl::StatusOr<Participant*> participant = participants_->Get(key);
  if (!participant.ok()) return Break(participant.status());
  return ViewOf(**participant, *events, Now());
}

absl::StatusOr<absl::Time> Core::NextDue() {
  if (absl::Status status = CheckUsable(); !status.ok()) return status;
  return store_->NextDue();
}

}  // namespace turnstone
