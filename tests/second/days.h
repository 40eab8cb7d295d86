// The site's days: which are worked, and when they end.
#pragma once

#include "tests/second/world.h"

namespace turnstone::second {

// At the end of the `count`-th working day after the day of `from`.
[[nodiscard]] absl::Time AfterWorkingDays(const World& world, absl::Time from,
                                          int count);
// At the end of the day so many calendar days after that of `from`, or of the
// next working day if that is none.
[[nodiscard]] absl::Time AfterDays(const World& world, absl::Time from,
                                   int days);
// The first moment of the day so many days before that of `time`.
[[nodiscard]] absl::Time DayBegins(const World& world, absl::Time time,
                                   int days_before);

}  // namespace turnstone::second
