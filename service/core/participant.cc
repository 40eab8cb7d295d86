#include "service/core/participant.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "rules/measure/proto_time.h"
#include "service/store/alert_id.h"

namespace turnstone {
namespace {

bool Has(const std::string& id, const std::vector<std::string>& ids) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

void AddOnce(const std::string& id, std::vector<std::string>& ids) {
  if (!Has(id, ids)) ids.push_back(id);
}

// Where the fact stands; quick where it has the time it had.
std::optional<size_t> FindNear(const History& history,
                               const v1::Occurrence& occurrence,
                               const EventKey& key) {
  const absl::Time effective = FromProto(occurrence.effective_time());
  const std::vector<Fact>& facts = history.facts();
  for (size_t i = history.FirstAtOrAfter(effective);
       i < facts.size() && facts[i].effective == effective; ++i) {
    if (facts[i].key == key) return i;
  }
  return history.Find(key);
}

// The occurrence rests on a question that was put again and no longer raises.
bool FellAway(const v1::Occurrence& occurrence, const v1::Alert& alert,
              const std::vector<Answer>& answers, const History& history) {
  if (occurrence.has_no_longer_since()) return false;
  const EventKey key{occurrence.event_source(), occurrence.event_id()};
  const std::optional<size_t> at = FindNear(history, occurrence, key);
  if (!at) return true;
  if (history.facts()[*at].corrected_by != occurrence.corrected_by()) {
    return true;
  }
  return std::any_of(answers.begin(), answers.end(), [&](const Answer& answer) {
    return answer.fact == key && !answer.raise && !answer.waits &&
           answer.rule->id() == alert.rule().rule() &&
           ToProto(answer.due).seconds() == occurrence.due().seconds();
  });
}

// A store from before there were ladders has open alerts without a climb.
void BeginAsFound(absl::Time now, const Site& site, v1::Alert& alert) {
  for (const v1::AlertChange& change : alert.history()) {
    if (change.status() != v1::ALERT_STATUS_RECEIVED) continue;
    *alert.mutable_holder() = change.by();
    return BeginClimb(v1::UNTIL_CLOSED, now, site, alert);
  }
  BeginClimb(v1::UNTIL_RECEIVED, now, site, alert);
}

}  // namespace

absl::StatusOr<Participant> Participant::Load(Store& store, const Setup& setup,
                                              const Setup* shadow,
                                              const ParticipantKey& key) {
  const Site* site = setup.FindSite(key.site);
  if (site == nullptr) {
    return absl::NotFoundError(
        absl::StrCat("site: \"", key.site, "\" is not configured here"));
  }
  Participant participant(key, *site);
  absl::StatusOr<std::vector<StoredEvent>> events =
      store.EventsOf(key, SiteScope::All());
  if (!events.ok()) return events.status();
  for (const StoredEvent& stored : *events) {
    const auto change =
        participant.history_.Apply(stored.event, setup.catalogue());
    if (!change.ok()) {
      return absl::DataLossError(absl::StrCat(
          "stored event number ", stored.sequence,
          " is not understood under the configuration in force; put back the "
          "instruments it was accepted with: ",
          change.status().message()));
    }
  }
  participant.agenda_.Refresh(participant.history_, absl::InfinitePast(),
                              std::nullopt, *site);
  if (shadow != nullptr) {
    participant.shadow_ = ShadowSide::Load(*events, *shadow, key);
  }
  absl::StatusOr<std::vector<v1::Alert>> alerts =
      store.AlertsOf(key, SiteScope::All());
  if (!alerts.ok()) return alerts.status();
  for (v1::Alert& alert : *alerts) {
    const int64_t number = AlertNumber(alert.alert_id()).value_or(0);
    participant.alerts_.emplace(number, std::move(alert));
  }
  absl::StatusOr<std::optional<ParticipantRow>> row =
      store.FindParticipant(key);
  if (!row.ok()) return row.status();
  if (row->has_value()) participant.asked_until_ = (*row)->asked_until;
  return participant;
}

absl::StatusOr<Participant::Effects> Participant::TakeIn(const v1::Event& event,
                                                         const Moment& moment) {
  const absl::StatusOr<HistoryChange> change =
      history_.Apply(event, moment.setup.catalogue());
  if (!change.ok()) return change.status();
  agenda_.Refresh(history_, change->from, change->corrected, *site_);
  const Cause cause{{event.source(), event.event_id()},
                    change->corrected.has_value()};
  std::vector<v1::ShadowVerdict> shadow;
  if (shadow_ != nullptr) {
    shadow = shadow_->TakeIn(event, asked_until_, moment.now);
  }
  Effects effects =
      Settle({change->from, asked_until_, moment.now}, &cause, moment);
  effects.shadow = std::move(shadow);
  return effects;
}

Participant::Effects Participant::PassTime(const Moment& moment) {
  std::vector<v1::ShadowVerdict> shadow;
  if (shadow_ != nullptr) shadow = shadow_->PassTime(asked_until_, moment.now);
  Effects effects = Settle({absl::InfiniteFuture(), asked_until_, moment.now},
                           nullptr, moment);
  effects.shadow = std::move(shadow);
  return effects;
}

Participant::Effects Participant::Settle(const Asking& asking,
                                         const Cause* cause,
                                         const Moment& moment) {
  Effects effects;
  const std::vector<Answer> answers = Decide(*site_, history_, agenda_, asking);
  asked_until_ = std::max(asked_until_, asking.now);
  // Reasons that hold now come first: a corrected event that still raises then
  // stays on its alert instead of ending it.
  for (const Answer& answer : answers) {
    if (answer.raise) Raise(answer, moment, effects);
  }
  if (cause != nullptr) Withdraw(answers, *cause, asking.now, effects);
  ClimbAll(moment, effects);
  return effects;
}

void Participant::Raise(const Answer& answer, const Moment& moment,
                        Effects& effects) {
  v1::Alert* open = nullptr;
  for (auto& [number, alert] : alerts_) {
    if (alert.rule().rule() != answer.rule->id()) continue;
    if (Holds(alert, answer)) return;
    if (IsOpen(alert)) open = &alert;
  }
  if (open != nullptr) {
    if (AddOccurrence(answer, *site_, moment.now, *open)) {
      effects.tellings.push_back(
          TellApart({open->holder().name()}, "there is one more reason for it",
                    moment.now, AroundNow(moment), *open));
    }
    if (open->rule().configuration() != moment.setup.digest()) {
      open->mutable_occurrence()->rbegin()->set_configuration(
          moment.setup.digest());
    }
    AddOnce(open->alert_id(), effects.changed);
    return;
  }
  const int64_t number = moment.next_alert_number++;
  alerts_.emplace(number,
                  RaiseAlert(AlertId(number), key_.participant, answer, *site_,
                             moment.setup.digest(), moment.now));
  AddOnce(AlertId(number), effects.raised);
}

void Participant::ClimbAll(const Moment& moment, Effects& effects) {
  for (auto& [number, alert] : alerts_) {
    if (!IsOpen(alert) || Rests(alert, moment.now, effects)) continue;
    const std::string before = alert.escalation().SerializeAsString();
    if (!alert.has_escalation()) BeginAsFound(moment.now, *site_, alert);
    std::vector<Telling> tellings =
        ClimbTo(moment.now, AroundNow(moment), alert);
    if (alert.escalation().SerializeAsString() == before) continue;
    std::move(tellings.begin(), tellings.end(),
              std::back_inserter(effects.tellings));
    AddOnce(alert.alert_id(), effects.climbed);
  }
  on_ladders_ = true;
}

bool Participant::Rests(const v1::Alert& alert, absl::Time now,
                        const Effects& effects) const {
  return on_ladders_ && FromProto(alert.escalation().next_at()) > now &&
         !Has(alert.alert_id(), effects.raised) &&
         !Has(alert.alert_id(), effects.changed);
}

void Participant::Withdraw(const std::vector<Answer>& answers,
                           const Cause& cause, absl::Time now,
                           Effects& effects) {
  for (auto& [number, alert] : alerts_) {
    for (int i = 0; i < alert.occurrence_size() && IsOpen(alert); ++i) {
      if (FellAway(alert.occurrence(i), alert, answers, history_)) {
        WithdrawOccurrence(i, cause, now, alert);
        AddOnce(alert.alert_id(), effects.changed);
        if (!IsOpen(alert)) AddOnce(alert.alert_id(), effects.settled);
      }
    }
  }
}

ParticipantRow Participant::Row() const {
  absl::Time next_due = agenda_.NextAfter(asked_until_);
  if (shadow_ != nullptr) {
    next_due = std::min(next_due, shadow_->NextAfter(asked_until_));
  }
  for (const auto& [number, alert] : alerts_) {
    if (!alert.has_escalation()) continue;
    next_due = std::min(next_due, FromProto(alert.escalation().next_at()));
  }
  return {key_, asked_until_, next_due};
}

v1::Alert* Participant::FindAlert(const std::string& alert_id) {
  for (auto& [number, alert] : alerts_) {
    if (alert.alert_id() == alert_id) return &alert;
  }
  return nullptr;
}

}  // namespace turnstone
