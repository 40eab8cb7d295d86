// The engine: (rules, what is known, what changed, time) -> decisions. Pure
// and deterministic: the same inputs give the same decisions, byte for byte
// (BrokeDeterministic).
#pragma once

#include <absl/time/time.h>

#include <optional>
#include <string>
#include <vector>

#include "rules/engine/agenda.h"
#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "rules/measure/truth.h"

namespace turnstone {

// The answer of one rule about one fact.
struct Answer {
  const v1::Rule* rule = nullptr;
  EventKey fact;
  std::string corrected_by;
  absl::Time effective;
  absl::Time due;
  Truth truth = v1::TRUTH_UNKNOWN;
  // An alert must exist. True, or unknown with nothing left to wait for.
  bool raise = false;
  // Unknown, and to be asked again: nothing is decided yet.
  bool waits = false;
  // Only when `raise`.
  v1::Priority priority = v1::PRIORITY_UNSPECIFIED;
  v1::ConditionTrace trace;
  std::string why;
};

// The answer without the words: of rule `rule` (index into Site::rules) about
// fact `at`. The rest as in Answer.
struct Judgement {
  size_t at = 0;
  int rule = 0;
  absl::Time due;
  Truth truth = v1::TRUTH_UNKNOWN;
  bool raise = false;
  bool waits = false;
  v1::Priority priority = v1::PRIORITY_UNSPECIFIED;
};

// What is to be asked: facts from `changed_from` on may have changed, and time
// has passed from `asked_until` to `now`.
struct Asking {
  absl::Time changed_from = absl::InfiniteFuture();
  absl::Time asked_until = absl::InfinitePast();
  absl::Time now;
};

// Whether `question`, about fact `at`, is asked again although the first answer
// was known: then it raises nothing. Pure.
[[nodiscard]] bool IsSettled(const Site& site, const History& history,
                             size_t at, const Question& question);

// Every answer, in the order in which the questions fell due. `agenda` must
// have been refreshed with the change. Pure.
[[nodiscard]] std::vector<Judgement> Judge(const Site& site,
                                           const History& history,
                                           const Agenda& agenda,
                                           const Asking& asking);

// The same answer, with the words where it raises. Pure. REQUIRES: `judgement`
// came from Judge for this site and history.
[[nodiscard]] Answer InWords(const Judgement& judgement, const Site& site,
                             const History& history);

// What Judge says, each in words. Pure.
[[nodiscard]] std::vector<Answer> Decide(const Site& site,
                                         const History& history,
                                         const Agenda& agenda,
                                         const Asking& asking);

}  // namespace turnstone
