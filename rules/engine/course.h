// How an instrument's totals have gone since the baseline.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/history.h"
#include "turnstone/v1/measure.pb.h"

namespace turnstone {

// From the baseline (see BaselineAmong) to the last of `forms`.
// REQUIRES: two forms or more, oldest first, of one instrument with items, none
// of them declined as a whole.
// `enrolment`: the latest one, or null. `zone`: whose days the sentences name.
// Pure.
[[nodiscard]] v1::ScoreCourse MeasureCourse(
    const std::vector<const Fact*>& forms, const Fact* enrolment,
    absl::TimeZone zone);

}  // namespace turnstone
