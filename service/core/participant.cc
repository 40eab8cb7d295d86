#include "service/core/participant.h"

#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/store/alert_id.h"

namespace turnstone {
namespace {

void AddOnce(const std::string& id, std::vector<std::string>& ids) {
  if (std::find(ids.begin(), ids.end(), id) == ids.end()) ids.push_back(id);
}

// The occurrence rests on a question that was put again and no longer raises.
bool FellAway(const v1::Occurrence& occurrence, const v1::Alert& alert,
              const std::vector<Answer>& answers, const History& history) {
  if (occurrence.has_no_longer_since()) return false;
  const EventKey key{occurrence.event_source(), occurrence.event_id()};
  const std::optional<size_t> at = history.Find(key);
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

}  // namespace

absl::StatusOr<Participant> Participant::Load(Store& store, const Setup& setup,
                                              const ParticipantKey& key) {
  const Site* site = setup.FindSite(key.site);
  if (site == nullptr) {
    return absl::NotFoundError(
        absl::StrCat("site: \"", key.site, "\" is not configured here"));
  }
  Participant participant(key, *site);
  absl::StatusOr<std::vector<StoredEvent>> events = store.EventsOf(key);
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
  absl::StatusOr<std::vector<v1::Alert>> alerts = store.AlertsOf(key);
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

absl::StatusOr<Participant::Effects> Participant::TakeIn(
    const v1::Event& event, const Setup& setup, absl::Time now,
    int64_t& next_alert_number) {
  const absl::StatusOr<HistoryChange> change =
      history_.Apply(event, setup.catalogue());
  if (!change.ok()) return change.status();
  agenda_.Refresh(history_, change->from, change->corrected, *site_);
  const Cause cause{{event.source(), event.event_id()},
                    change->corrected.has_value()};
  return Settle(setup, {change->from, asked_until_, now}, &cause,
                next_alert_number);
}

Participant::Effects Participant::PassTime(const Setup& setup, absl::Time now,
                                           int64_t& next_alert_number) {
  return Settle(setup, {absl::InfiniteFuture(), asked_until_, now}, nullptr,
                next_alert_number);
}

Participant::Effects Participant::Settle(const Setup& setup,
                                         const Asking& asking,
                                         const Cause* cause,
                                         int64_t& next_alert_number) {
  Effects effects;
  const std::vector<Answer> answers = Decide(*site_, history_, agenda_, asking);
  asked_until_ = std::max(asked_until_, asking.now);
  // Reasons that hold now come first: a corrected event that still raises then
  // stays on its alert instead of ending it.
  for (const Answer& answer : answers) {
    if (answer.raise) {
      Raise(answer, setup, asking.now, next_alert_number, effects);
    }
  }
  if (cause != nullptr) Withdraw(answers, *cause, asking.now, effects);
  return effects;
}

void Participant::Raise(const Answer& answer, const Setup& setup,
                        absl::Time now, int64_t& next_alert_number,
                        Effects& effects) {
  v1::Alert* open = nullptr;
  for (auto& [number, alert] : alerts_) {
    if (alert.rule().rule() != answer.rule->id()) continue;
    if (Holds(alert, answer)) return;
    if (IsOpen(alert)) open = &alert;
  }
  if (open != nullptr) {
    AddOccurrence(answer, now, *open);
    AddOnce(open->alert_id(), effects.changed);
    return;
  }
  const int64_t number = next_alert_number++;
  alerts_.emplace(number, RaiseAlert(AlertId(number), key_.participant, answer,
                                     *site_, setup.digest(), now));
  AddOnce(AlertId(number), effects.raised);
}

void Participant::Withdraw(const std::vector<Answer>& answers,
                           const Cause& cause, absl::Time now,
                           Effects& effects) {
  for (auto& [number, alert] : alerts_) {
    for (int i = 0; i < alert.occurrence_size() && IsOpen(alert); ++i) {
      if (FellAway(alert.occurrence(i), alert, answers, history_)) {
        WithdrawOccurrence(i, cause, now, alert);
        AddOnce(alert.alert_id(), effects.changed);
      }
    }
  }
}

ParticipantRow Participant::Row() const {
  return {key_, asked_until_, agenda_.NextAfter(asked_until_)};
}

v1::Alert* Participant::FindAlert(const std::string& alert_id) {
  for (auto& [number, alert] : alerts_) {
    if (alert.alert_id() == alert_id) return &alert;
  }
  return nullptr;
}

}  // namespace turnstone
