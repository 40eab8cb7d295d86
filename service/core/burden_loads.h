// The burden of alerts by person, by rule and by day. Pure.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "rules/engine/setup.h"
#include "turnstone/v1/burden.pb.h"

namespace turnstone {

// Ended without anything being done, as Burden.without_action says.
[[nodiscard]] bool WithoutAction(const v1::Alert& alert, const Site& site);

// Whoever was told of one of `alerts` or received it; fills in the tellings.
void AddPersonLoads(const std::vector<const v1::Alert*>& alerts,
                    v1::Burden& burden);

void AddRuleLoads(const std::vector<const v1::Alert*>& alerts, const Site& site,
                  v1::Burden& burden);

// The days of `zone` that have begun by `now`, from that of `from` to the one
// before `to`.
void AddDayLoads(const std::vector<const v1::Alert*>& alerts, absl::Time from,
                 absl::Time to, absl::Time now, absl::TimeZone zone,
                 v1::Burden& burden);

}  // namespace turnstone
