// One rotation of a rota: whose turn it is, and within which windows.
#pragma once

#include <absl/time/time.h>

#include <set>
#include <string>

#include "turnstone/v1/duty.pb.h"

namespace turnstone {

// Who of `rotation` is on duty at `time`; empty: nobody.
// REQUIRES: `rotation` passed the checks of rules/check; so below. Pure.
[[nodiscard]] std::string PersonAt(const v1::Rotation& rotation,
                                   absl::TimeZone zone, absl::Time time);

// Every moment in (from, until) at which that may change, put into `changes`.
void AddChanges(const v1::Rotation& rotation, absl::TimeZone zone,
                absl::Time from, absl::Time until,
                std::set<absl::Time>& changes);

}  // namespace turnstone
