// A file of forms, read into events: a table, or events as `submit` takes
// them.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/measure/catalogue.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::cli {

struct NumberedEvent {
  int line = 0;  // from 1
  v1::Event event;
};

struct RefusedLine {
  int line = 0;  // from 1
  std::string reason;
};

// Both in order of line.
struct MeasureInput {
  std::vector<NumberedEvent> events;
  std::vector<RefusedLine> refused;
};

// A text that begins with "{" holds one event on each line; any other is a
// table, see ReadFormTable. Pure.
[[nodiscard]] MeasureInput ReadMeasureInput(const std::string& text,
                                            const Catalogue& catalogue,
                                            absl::TimeZone zone);

}  // namespace turnstone::cli
