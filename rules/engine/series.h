// Every form of one participant, by instrument: what it adds up to, and how
// the totals have gone since the baseline.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/history.h"
#include "turnstone/v1/measure.pb.h"

namespace turnstone {

// In order of instrument id, forms oldest first. `zone`: whose days the
// sentences name. Pure.
[[nodiscard]] std::vector<v1::ScoreSeries> MeasureSeries(const History& history,
                                                         absl::TimeZone zone);

}  // namespace turnstone
