// What alerts asked of people over a time.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/setup.h"
#include "turnstone/v1/burden.pb.h"

namespace turnstone {

// How far back an alert counts as a repeat of an earlier one.
inline constexpr absl::Duration kRaisedAgainWithin = absl::Hours(30 * 24);

// Of the alerts raised in [from, to). `alerts`: all of the site that were
// raised in [from - kRaisedAgainWithin, to), in any order; others do no harm.
// `now` is the service's time. REQUIRES: the times are finite. Pure.
[[nodiscard]] v1::Burden BurdenOf(const std::vector<v1::Alert>& alerts,
                                  const Site& site, absl::Time from,
                                  absl::Time to, absl::Time now);

}  // namespace turnstone
