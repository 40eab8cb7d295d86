// Working days of a site, in its own zone, across clock changes.
#pragma once

#include <absl/time/civil_time.h>
#include <absl/time/time.h>

#include <array>
#include <set>

namespace turnstone {

// Immutable. Local times that do not exist (clocks forward) or exist twice
// (clocks back) are read with the offset in force before the change, as RFC
// 5545 section 3.3.5 says.
class WorkCalendar {
 public:
  // `working[0]` is Monday. REQUIRES: at least one working day.
  // `day_end` counts from local midnight, e.g. 17 h.
  WorkCalendar(absl::TimeZone zone, std::array<bool, 7> working,
               std::set<absl::CivilDay> holidays, absl::Duration day_end);

  [[nodiscard]] absl::TimeZone zone() const { return zone_; }
  [[nodiscard]] bool IsWorkingDay(absl::CivilDay day) const;
  // End of the `count`-th working day after the local day of `from`;
  // count >= 1. After ten years without a working day: ten years on.
  [[nodiscard]] absl::Time EndOfWorkingDay(absl::Time from, int count) const;

 private:
  absl::TimeZone zone_;
  std::array<bool, 7> working_;
  std::set<absl::CivilDay> holidays_;
  absl::Duration day_end_;
};

}  // namespace turnstone
