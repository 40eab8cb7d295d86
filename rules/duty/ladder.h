// Which ladder an alert climbs, and when its next rung is due.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/measure/work_calendar.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Indexes of the site's ladders for alerts of that kind and priority: those
// that name the kind or, where none does, those that name no kind at all.
// Exactly one, where the site passed the checks. Pure.
[[nodiscard]] std::vector<int> FittingLadders(const v1::SiteConfig& site,
                                              v1::AlertKind kind,
                                              v1::Priority priority);

// `from` and the wait after it. A wait that is not set is none at all.
[[nodiscard]] absl::Time AddWait(const v1::Wait& wait, absl::Time from,
                                 const WorkCalendar& calendar);

// The rung that is reached after `reached` others: the last one again where
// there are no more. REQUIRES: the climb has a rung; reached >= 0.
[[nodiscard]] const v1::Rung& RungAfter(const v1::Climb& climb, int reached);

// When that rung is due. `counted_from`: when the rung before was due; for the
// first, when the climb began.
[[nodiscard]] absl::Time RungDue(const v1::Climb& climb, int reached,
                                 absl::Time counted_from,
                                 const WorkCalendar& calendar);

}  // namespace turnstone
