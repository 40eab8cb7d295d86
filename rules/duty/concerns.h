// What a configuration that is right today makes somebody worry about: it
// depends on the date.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/duty/team.h"
#include "rules/measure/work_calendar.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// A time within the next 90 days when nobody of a role with a rota is on duty.
struct Gap {
  std::string role;
  absl::Time from;
  absl::Time until;
};

// Exact to the second. `swaps` as in Rota.
[[nodiscard]] std::vector<Gap> StaffingGaps(const Team& team, absl::Time now,
                                            const std::vector<Swap>& swaps);

// A sentence each: "on-call-lead: nobody is on duty from Sat 6 Feb 2027 09:00
// to Sun 7 Feb 2027 09:00", "protocol self-harm: its review was due by
// 2026-12-31".
[[nodiscard]] std::vector<std::string> ConcernsOf(
    const v1::SiteConfig& site, const Team& team, absl::TimeZone zone,
    absl::Time now, const std::vector<Swap>& swaps);

}  // namespace turnstone
