// Single rules, written as in a file, with the instruments we ship.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/setup.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// When a rule is asked about a PHQ-9 at once.
inline constexpr char kPhq9[] = "screening { instrument: \"phq-9\" }";

// A site where a rule asked about `when` ("visit_outcome {}") has `condition`,
// with `more` fields. Aborts if it cannot be read.
[[nodiscard]] Setup SetUpRule(const std::string& when,
                              const std::string& condition,
                              const std::string& more = "");

// Aborts if it cannot be read.
[[nodiscard]] v1::Example ExampleOf(const std::string& text);

// The events of an example; fails the test, saying why, if it is unreadable.
[[nodiscard]] std::vector<v1::Event> EventsOf(const std::string& example,
                                              const Setup& setup);

}  // namespace turnstone
