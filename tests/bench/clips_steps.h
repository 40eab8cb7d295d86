// What CLIPS is told and asked about one participant, made beforehand: forms
// scored, deadlines in their place.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/setup.h"
#include "tests/bench/clips_side.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// What one participant's events are, in the order in which they happened.
using Course = std::vector<v1::Event>;

struct Step {
  absl::Time when;
  ClipsFact fact;  // without a kind: nothing new
  ClipsFact question;
};
using Steps = std::vector<Step>;

[[nodiscard]] absl::Time HappenedAt(const v1::Event& event);
[[nodiscard]] Steps StepsOf(const Course& course, const Setup& setup);

}  // namespace turnstone
