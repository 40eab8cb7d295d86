// When the next rung of a ladder is due.
#pragma once

#include <absl/time/time.h>

#include "rules/measure/work_calendar.h"
#include "turnstone/v1/duty.pb.h"

namespace turnstone {

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
