// What is on record, but for one small thing.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "rules/engine/setup.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// Another content for one event, or none.
struct Step {
  size_t at = 0;  // index of the event
  // Absent: had it not been on record.
  std::optional<v1::Event> instead;
  // "if the PHQ-9 of 3 Feb 2027 had item 3 at 2 instead of 1".
  std::string words;
};

// Every single step from `events`: an item by a point, answered or not; the
// wish to take part; another result, outcome or reason; a percent; a planned
// visit more or fewer; a day earlier or later; the event not on record. Pure.
// `events`: accepted ones of one participant, without corrections.
[[nodiscard]] std::vector<Step> StepsFrom(const std::vector<v1::Event>& events,
                                          const Setup& setup, const Site& site);

// The steps of a form's content. `words` of each follow "the PHQ-9 of
// 3 Feb 2027 ". Pure.
struct FormStep {
  v1::ScreeningResult instead;
  std::string words;
};
[[nodiscard]] std::vector<FormStep> FormSteps(const v1::ScreeningResult& form,
                                              const Scale& scale);

}  // namespace turnstone
