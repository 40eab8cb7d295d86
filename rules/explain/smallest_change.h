// What it would have taken for a rule to raise.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/explain/outcome.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

struct Change {
  // A sentence a step.
  std::vector<std::string> steps;
  // What the rule would have said then.
  std::string why;
};

// One step away from what is on record, else two: first those by which the rule
// applies to the event, then those by which it cannot tell. Absent where none
// is found; not every pair of steps is tried where there are very many.
// `events`: the participant's as corrected (see AsCorrected). Pure.
[[nodiscard]] std::optional<Change> SmallestChange(
    int rule, const EventKey& event, const std::vector<v1::Event>& events,
    const Knowledge& known);

}  // namespace turnstone
