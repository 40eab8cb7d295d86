// What a rule answers about an example.
#pragma once

#include <string>

#include "rules/examples/example_events.h"

namespace turnstone {

struct ExampleRun {
  Truth truth = v1::TRUTH_UNKNOWN;
  v1::ExampleAnswer answer = v1::EXAMPLE_ANSWER_UNSPECIFIED;
  // What the conditions saw when the answer was given.
  v1::ConditionTrace trace;
};

// REQUIRES: `example` came from ReadExample(..., setup, rule). Pure.
[[nodiscard]] ExampleRun RunExample(const ExampleCase& example,
                                    const Setup& setup, int rule);

// The answer the example says, or that its kind implies; unspecified if it does
// neither. Pure.
[[nodiscard]] v1::ExampleAnswer StatedAnswer(const v1::Example& example);

// "raises", "raises for review", "does not raise".
[[nodiscard]] std::string AnswerInWords(v1::ExampleAnswer answer);

}  // namespace turnstone
