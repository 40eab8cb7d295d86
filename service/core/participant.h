// One participant in memory: what is known, what is to be asked, and the
// alerts. Derived from the store; dropping it loses nothing.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <map>
#include <string>
#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/decide.h"
#include "rules/engine/history.h"
#include "service/core/lifecycle.h"
#include "service/store/store.h"

namespace turnstone {

// Single-thread (the commit thread).
class Participant {
 public:
  // Reads everything the store has; an unknown participant is empty. Errors of
  // the store, or DATA_LOSS if a stored event can no longer be understood.
  [[nodiscard]] static absl::StatusOr<Participant> Load(
      Store& store, const Setup& setup, const ParticipantKey& key);

  // What one step did.
  struct Effects {
    std::vector<std::string> raised;   // new alerts, by id
    std::vector<std::string> changed;  // alerts that were there before
  };

  // Takes in an event. On an error nothing has changed. `next_alert_number`
  // goes up by one for each new alert.
  [[nodiscard]] absl::StatusOr<Effects> TakeIn(const v1::Event& event,
                                               const Setup& setup,
                                               absl::Time now,
                                               int64_t& next_alert_number);
  // Asks what has fallen due.
  [[nodiscard]] Effects PassTime(const Setup& setup, absl::Time now,
                                 int64_t& next_alert_number);

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

  [[nodiscard]] Effects Settle(const Setup& setup, const Asking& asking,
                               const Cause* cause, int64_t& next_alert_number);
  void Raise(const Answer& answer, const Setup& setup, absl::Time now,
             int64_t& next_alert_number, Effects& effects);
  void Withdraw(const std::vector<Answer>& answers, const Cause& cause,
                absl::Time now, Effects& effects);

  ParticipantKey key_;
  const Site* site_;
  History history_;
  Agenda agenda_;
  absl::Time asked_until_ = absl::InfinitePast();
  std::map<int64_t, v1::Alert> alerts_;
};

}  // namespace turnstone
