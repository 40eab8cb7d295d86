// What happened in an example, as the events a service would get.
#pragma once

#include <variant>
#include <vector>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "rules/examples/example_form.h"

namespace turnstone {

struct ExampleCase {
  // In order of effective time, from one source, ids "fact-1", "fact-2", ...
  std::vector<v1::Event> event;
  History history;
  // The one the rule is asked about.
  EventKey asked;
};

// Day 0 is Monday 4 January 2027. The first fact of a day happens at 10:00 UTC,
// each further one a minute later; visits are planned for 10:00. Pure.
// REQUIRES: `setup` came from SetUpExamples, and outlives the result; `rule` is
// an index into its rules.
[[nodiscard]] std::variant<ExampleCase, ExampleError> ReadExample(
    const v1::Example& example, const Setup& setup, int rule);

}  // namespace turnstone
