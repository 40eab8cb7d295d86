// A reason that a rule would have raised; nobody is told of it.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <tuple>

#include "rules/engine/history.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone {

struct Verdict {
  std::string participant;
  std::string rule;
  EventKey event;
  // As in Fact.
  std::string corrected_by;
  // When the event happened.
  absl::Time effective;
  // The moment the question is about.
  absl::Time due;
  // When it was put: later than `due` where the event, or a fact from before,
  // came in late.
  absl::Time asked;
  Truth truth = v1::TRUTH_UNKNOWN;
  v1::AlertKind kind = v1::ALERT_KIND_UNSPECIFIED;
  v1::Priority priority = v1::PRIORITY_UNSPECIFIED;
  // One sentence, as in Occurrence.why.
  std::string why;
};

// What two verdicts have in common that differ only in how or when they were
// raised. The order of the lists in Difference. Pure.
[[nodiscard]] inline auto Subject(const Verdict& verdict) {
  return std::tie(verdict.participant, verdict.rule, verdict.event,
                  verdict.corrected_by);
}

}  // namespace turnstone
