// One participant in memory: what is known, what is to be asked, and the
// alerts. Derived from the store; dropping it loses nothing.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <map>
#include <memory>
#include <string>
#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/decide.h"
#include "rules/engine/history.h"
#include "service/core/escalation.h"
#include "service/core/lifecycle.h"
#include "service/core/shadow_side.h"
#include "service/core/work.h"
#include "service/store/store.h"

namespace turnstone {

// Single-thread (the commit thread).
class Participant {
 public:
  // Reads everything the store has; an unknown participant is empty. `shadow`:
  // the version to run beside `setup`, or null. Errors of the store, or
  // DATA_LOSS if a stored event can no longer be understood.
  [[nodiscard]] static absl::StatusOr<Participant> Load(
      Store& store, const Setup& setup, const Setup* shadow,
      const ParticipantKey& key);

  // When and with what a step is made.
  struct Moment {
    const Setup& setup;
    // Of the participant's site.
    const std::vector<Swap>& swaps;
    absl::Time now;
    // Goes up by one for each new alert.
    int64_t& next_alert_number;
  };
  // What one step did.
  struct Effects {
    std::vector<std::string> raised;   // new alerts, by id
    std::vector<std::string> changed;  // alerts that were there before
    // Alerts that only went up their ladder, or have another deadline.
    std::vector<std::string> climbed;
    std::vector<Telling> tellings;
    // Alerts of which nobody need be told any more what they were to be told.
    std::vector<std::string> settled;
    // What the version in shadow would have raised.
    std::vector<v1::ShadowVerdict> shadow;
  };

  // Takes in an event. On an error nothing has changed.
  [[nodiscard]] absl::StatusOr<Effects> TakeIn(const v1::Event& event,
                                               const Moment& moment);
  // Asks what has fallen due, and takes every alert up its ladder.
  [[nodiscard]] Effects PassTime(const Moment& moment);

  // What somebody's work on an alert did.
  struct WorkEffects {
    Effects effects;
    std::string action;    // for the audit; empty: nothing changed
    std::string alert_id;  // to be shown: the alert's own, or the new one's
  };
  // Errors as Work; then nothing has changed. REQUIRES: the alert is this
  // participant's.
  [[nodiscard]] absl::StatusOr<WorkEffects> WorkOn(
      const v1::WorkAlertRequest& request, const v1::Actor& by,
      const Moment& moment);
  // No message of the alert's latest telling could be delivered.
  [[nodiscard]] Effects ReachedNobody(const std::string& alert_id,
                                      const std::string& why,
                                      const Moment& moment);
  // The duty of `from` has passed to `to`: if they had the alert, it passes
  // too; if nobody has it, that is written down.
  [[nodiscard]] Effects HandOver(const std::string& alert_id,
                                 const std::string& from, const v1::Actor& to,
                                 const Moment& moment);

  [[nodiscard]] ParticipantRow Row() const;
  [[nodiscard]] const ParticipantKey& key() const { return key_; }
  [[nodiscard]] const Site& site() const { return *site_; }
  [[nodiscard]] const History& history() const { return history_; }
  [[nodiscard]] const Agenda& agenda() const { return agenda_; }
  // By alert number.
  [[nodiscard]] std::map<int64_t, v1::Alert>& alerts() { return alerts_; }
  // Null if this participant has no such alert.
  [[nodiscard]] v1::Alert* FindAlert(const std::string& alert_id);

 private:
  Participant(ParticipantKey key, const Site& site)
      : key_(std::move(key)), site_(&site) {}

  [[nodiscard]] Effects Settle(const Asking& asking, const Cause* cause,
                               const Moment& moment);
  void Raise(const Answer& answer, const Moment& moment, Effects& effects);
  void Withdraw(const std::vector<Answer>& answers, const Cause& cause,
                absl::Time now, Effects& effects);
  // Every open alert goes up as far as is due.
  void ClimbAll(const Moment& moment, Effects& effects);
  // Nothing would come of letting it climb now.
  [[nodiscard]] bool Rests(const v1::Alert& alert, absl::Time now,
                           const Effects& effects) const;
  [[nodiscard]] absl::StatusOr<WorkEffects> ReopenIt(const v1::Reopen& request,
                                                     const Desk& desk,
                                                     v1::Alert& ended,
                                                     const Moment& moment);
  [[nodiscard]] Around AroundNow(const Moment& moment) const {
    return {*site_, moment.swaps, history_.Clinician()};
  }

  ParticipantKey key_;
  const Site* site_;
  History history_;
  Agenda agenda_;
  std::unique_ptr<ShadowSide> shadow_;  // null: nothing is in shadow
  absl::Time asked_until_ = absl::InfinitePast();
  std::map<int64_t, v1::Alert> alerts_;
  // Every open alert has the deadline that the site's ladders give it.
  bool on_ladders_ = false;
};

}  // namespace turnstone
