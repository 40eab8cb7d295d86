// Alerts over time, as a chart.
#pragma once

#include <string>

#include "turnstone/v1/burden.pb.h"

namespace turnstone::cli {

// A bar for each day, time going down; for each week, beginning on Monday,
// where there are more days than a screen holds. Indented by two.
[[nodiscard]] std::string BurdenChart(const v1::Burden& burden);

}  // namespace turnstone::cli
