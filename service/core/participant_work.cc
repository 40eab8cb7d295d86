// What people do with one participant's alerts, and what comes of it.
#include <absl/strings/str_cat.h>

#include <utility>

#include "service/core/participant.h"
#include "service/core/reopen.h"
#include "service/store/alert_id.h"

namespace turnstone {

absl::StatusOr<Participant::WorkEffects> Participant::WorkOn(
    const v1::WorkAlertRequest& request, const v1::Actor& by,
    const Moment& moment) {
  const Around around = AroundNow(moment);
  const Desk desk{by, moment.now, around};
  v1::Alert& alert = *FindAlert(request.alert_id());
  if (request.has_reopen()) {
    return ReopenIt(request.reopen(), desk, alert, moment);
  }
  absl::StatusOr<WorkDone> done = Work(request, desk, alert);
  if (!done.ok()) return done.status();
  WorkEffects result{{}, done->action, alert.alert_id()};
  if (done->action.empty()) return result;
  result.effects.changed.push_back(alert.alert_id());
  if (done->settles_messages) {
    result.effects.settled.push_back(alert.alert_id());
  }
  result.effects.tellings = std::move(done->tellings);
  ClimbAll(moment, result.effects);
  return result;
}

absl::StatusOr<Participant::WorkEffects> Participant::ReopenIt(
    const v1::Reopen& request, const Desk& desk, v1::Alert& ended,
    const Moment& moment) {
  absl::Status status = CheckReopen(request, desk, ended);
  if (!status.ok()) return status;
  for (const auto& [number, other] : alerts_) {
    if (IsOpen(other) && other.rule().rule() == ended.rule().rule()) {
      return absl::FailedPreconditionError(
          absl::StrCat("the same rule has raised ", other.alert_id(),
                       " for this participant, which is open; work on that "
                       "one"));
    }
  }
  const int64_t number = moment.next_alert_number++;
  alerts_.emplace(number, Reopen(request, desk, AlertId(number), ended));
  WorkEffects result{{}, "alert reopened", AlertId(number)};
  result.effects.raised.push_back(AlertId(number));
  result.effects.changed.push_back(ended.alert_id());
  ClimbAll(moment, result.effects);
  return result;
}

Participant::Effects Participant::ReachedNobody(const std::string& alert_id,
                                                const std::string& why,
                                                const Moment& moment) {
  Effects effects;
  v1::Alert* const alert = FindAlert(alert_id);
  if (alert == nullptr || !IsOpen(*alert)) return effects;
  effects.tellings = ClimbAtOnce(why, moment.now, AroundNow(moment), *alert);
  if (!effects.tellings.empty()) effects.climbed.push_back(alert_id);
  return effects;
}

Participant::Effects Participant::HandOver(const std::string& alert_id,
                                           const std::string& from,
                                           const v1::Actor& to,
                                           const Moment& moment) {
  Effects effects;
  v1::Alert& alert = *FindAlert(alert_id);
  const bool had = alert.holder().name() == from;
  if (alert.has_holder() && !had) return effects;
  Record(to,
         absl::StrCat(had ? "taken over, from " : "on duty now, in place of ",
                      from),
         moment.now, alert);
  if (had) *alert.mutable_holder() = to;
  effects.changed.push_back(alert_id);
  return effects;
}

}  // namespace turnstone
