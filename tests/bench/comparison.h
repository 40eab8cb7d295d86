// Every measurement of the service beside its floors.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "tests/bench/callers.h"
#include "tests/bench/disk_floor.h"

namespace turnstone {

struct ComparisonPlan {
  std::string program;  // turnstoned
  std::string self;     // this bench, for the echo
  std::string folder;   // on the disk that is measured
  std::vector<int> callers;
  std::vector<size_t> events;  // posted by so many callers
  int repeats = 0;
};

// One after another and again: the disk alone, the wire alone, and the service,
// by unary calls and by streams. Every list of figures under "cells" has
// "what", "callers" and what Summary says.
[[nodiscard]] nlohmann::ordered_json CompareWithFloors(
    const ComparisonPlan& plan, const Requests& requests,
    const WrittenRows& rows);

}  // namespace turnstone
