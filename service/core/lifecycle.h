// What may happen to an alert. Every change goes through here, is written into
// the alert's own history, and is pure: no I/O, time as input.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>

#include "rules/engine/decide.h"
#include "rules/engine/setup.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {

// requested, received, in-progress or on-hold.
[[nodiscard]] bool IsOpen(const v1::Alert& alert);

// The service itself, as an actor.
[[nodiscard]] v1::Actor ServiceActor();

// The words every alert and participant page of the site carries.
[[nodiscard]] std::string CautionFor(const Site& site);

// A new alert for `answer`. REQUIRES: answer.raise.
[[nodiscard]] v1::Alert RaiseAlert(const std::string& alert_id,
                                   const std::string& participant,
                                   const Answer& answer, const Site& site,
                                   const std::string& configuration_digest,
                                   absl::Time now);

// True if `answer` is about the event, in its present content, that the alert
// already holds as a reason of the same or a stronger truth.
[[nodiscard]] bool Holds(const v1::Alert& alert, const Answer& answer);

// One more reason for an open alert. Priority may rise, never falls.
void AddOccurrence(const Answer& answer, absl::Time now, v1::Alert& alert);

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

// A human has it. OK and unchanged if `by` has it already. FAILED_PRECONDITION
// if somebody else has, or the alert is not open. PERMISSION_DENIED if `by` is
// an intake system.
[[nodiscard]] absl::Status Receive(const v1::Actor& by, const std::string& note,
                                   absl::Time now, v1::Alert& alert);

// A human ends it with an outcome. INVALID_ARGUMENT, naming the site's
// outcomes, when outcome or note are missing or unknown; FAILED_PRECONDITION
// when it is not open; PERMISSION_DENIED as Receive.
[[nodiscard]] absl::Status Close(const v1::Actor& by,
                                 const std::string& outcome,
                                 const std::string& note, const Site& site,
                                 absl::Time now, v1::Alert& alert);

}  // namespace turnstone
