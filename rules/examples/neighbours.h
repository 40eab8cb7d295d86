// Every history that is one step away from a given one.
#pragma once

#include <absl/time/time.h>

#include <optional>
#include <string>
#include <vector>

#include "rules/engine/history.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// The smaller, the nearer.
enum class StepSize {
  kOneThing,    // an answer, a wish, a point, a percent, an outcome, a reason
  kOneDay,      // something came a day earlier or later
  kOneEvent,    // something was not there, or was there once more
  kManyPoints,  // a number other than the next one
};

// One step. Nothing is copied until somebody takes it (see Take), so that pairs
// of steps can be tried.
struct Step {
  StepSize size = StepSize::kOneThing;
  // What the event `at` is instead; absent: it was never there.
  std::optional<v1::Event> instead;
  size_t at = 0;
  // `instead` is there as well, not instead.
  bool further = false;
  // What is otherwise, to follow "if": "the PHQ-9 of 3 Feb 2027 had 2 points
  // on "Sleep" instead of 1".
  std::string differs;
};

struct StepOptions {
  // Whose days the sentences name.
  absl::TimeZone zone = absl::UTCTimeZone();
  // Visits of whoever's enrolment does not say how many.
  int planned_visits = 8;
  // Is never left out; steps that change it come before others of their size.
  std::optional<EventKey> asked = std::nullopt;
  // Confidences and totals worth jumping to, whatever lies between.
  std::vector<int> numbers = {};
};

// All of them: an answer a step better or worse; one given or left out; the
// reported total, the confidence or the planned visits one more or fewer;
// another result, wish, visit outcome or reason; anything a day earlier or
// later, left out, or (visits and forms) there once more the day before. Where
// the reported total agrees with the answers, it moves along with them.
//
// The smallest first; among equals those of the event asked about, then those
// of the latest events. Pure.
// REQUIRES: `events` are as a service accepts them, none of them a correction.
[[nodiscard]] std::vector<Step> StepsFrom(const std::vector<v1::Event>& events,
                                          const Catalogue& catalogue,
                                          const StepOptions& options);

// The history with that step taken. Neither the order of `events` nor that of
// the result matters to a History. Pure.
// REQUIRES: `step` came from StepsFrom(events, ...).
[[nodiscard]] std::vector<v1::Event> Take(const Step& step,
                                          std::vector<v1::Event> events);

}  // namespace turnstone
