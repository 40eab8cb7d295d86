// What a few rules of the shipped pack must find in an event, read by hand from
// what they are for: a second opinion for the auditor, without the engine.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/event.pb.h"

namespace turnstone::faults {

// Rules this file knows. Sources: the rationale and examples of each rule in
// rules/packs/home-visits.textproto; PHQ-9 scoring: Kroenke 2001, J Gen Intern
// Med 16:606.
[[nodiscard]] const std::vector<std::string>& KnownRules();

// Which of them must raise for the fact, for certain or for review.
[[nodiscard]] std::vector<std::string> MustRaise(const v1::Event& fact);

// What stands behind a correction: the fact it puts in place of another.
struct Standing {
  v1::Event fact;
  // "source event_id" of the correction; empty: as first posted.
  std::string corrected_by;
};
// What `event` says of the participant; none for a correction that withdraws.
[[nodiscard]] std::vector<Standing> StandingOf(const v1::Event& event);

}  // namespace turnstone::faults
