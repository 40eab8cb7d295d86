// A table of forms: CSV with the columns' names in its first row.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "clients/cli/measure_input.h"
#include "rules/measure/catalogue.h"

namespace turnstone::cli {

// Columns participant, date, instrument, and answers or total or both, in any
// order; see FormRow. Nothing but a refusal of line 1 if the first row names
// others, or not all of them. Pure.
[[nodiscard]] MeasureInput ReadFormTable(const std::string& text,
                                         const Catalogue& catalogue,
                                         absl::TimeZone zone);

}  // namespace turnstone::cli
