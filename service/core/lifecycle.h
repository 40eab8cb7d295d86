// What facts do to an alert: raise it, add a reason, take one away. What people
// do is in work.h, what time does in escalation.h. Pure: time as input.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>

#include "rules/engine/decide.h"
#include "rules/engine/setup.h"
#include "service/core/alert_record.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// The words every alert and participant page of the site carries.
[[nodiscard]] std::string CautionFor(const Site& site);

// `answer` as one reason for an alert. REQUIRES: answer.raise.
[[nodiscard]] v1::Occurrence MakeOccurrence(const Answer& answer,
                                            absl::Time now);

// A new alert for `answer`, about to climb its first rung. REQUIRES:
// answer.raise.
[[nodiscard]] v1::Alert RaiseAlert(const std::string& alert_id,
                                   const std::string& participant,
                                   const Answer& answer, const Site& site,
                                   const std::string& configuration_digest,
                                   absl::Time now);

// True if `answer` is about the event, in its present content, that the alert
// already holds as a reason of the same or a stronger truth.
[[nodiscard]] bool Holds(const v1::Alert& alert, const Answer& answer);

// One more reason for an open alert. Priority may rise, never falls. If it
// rises, the alert must be received anew, and climbs the ladder of the new
// priority from its first rung; a hold ends. Otherwise the climb goes on as it
// was, and true is returned if somebody has the alert and should be told. A
// closing that waits for its second person no longer stands.
[[nodiscard]] bool AddOccurrence(const Answer& answer, const Site& site,
                                 absl::Time now, v1::Alert& alert);

// Why reasons fell away: the event that brought the change.
struct Cause {
  EventKey event;
  // True: a correction; false: a fact that arrived late.
  bool correction = false;
};

// Occurrence `index` no longer holds. When none is left, says so on the alert;
// by a correction, an alert that is not latched becomes entered-in-error.
void WithdrawOccurrence(int index, const Cause& cause, absl::Time now,
                        v1::Alert& alert);

}  // namespace turnstone
