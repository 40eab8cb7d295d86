// One fact of an example, as the event a service would get.
#pragma once

#include <absl/time/time.h>

#include <optional>
#include <string>

#include "rules/examples/example_form.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

inline constexpr Interval kExampleDays{0, 3650};

// Day 0 is Monday 4 January 2027; 10:00 UTC. Pure, as are all.
[[nodiscard]] absl::Time ExampleTime(int day);

[[nodiscard]] bool InRange(int value, Interval range);
// What to say where a number is missing, or not InRange.
[[nodiscard]] std::optional<ExampleError> OutOfRange(const std::string& field,
                                                     Interval range);

// Fills in the payload of `event`.
[[nodiscard]] std::optional<ExampleError> ReadFact(const v1::ExampleFact& fact,
                                                   const Catalogue& catalogue,
                                                   v1::Event& event);

}  // namespace turnstone
