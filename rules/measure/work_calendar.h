// Working days of a site, in its own zone, across clock changes.
#pragma once

#include <absl/time/civil_time.h>
#include <absl/time/time.h>

#include <array>
#include <set>

namespace turnstone {

// The moment a clock in `zone` shows `local`. A time that does not exist
// (clocks forward) or exists twice (clocks back) is read with the offset in
// force before the change, as RFC 5545 section 3.3.5 says. Pure.
[[nodiscard]] absl::Time LocalToAbsolute(absl::CivilSecond local,
                                         absl::TimeZone zone);

// Immutable; safe to share. Reads local times as LocalToAbsolute does.
class WorkCalendar {
 public:
  // `working[0]` is Monday. REQUIRES: at least one working day.
  // `day_start` and `day_end` are what the clock shows, as spans from midnight:
  // 17 h is 17:00; 24 h is the midnight that ends the day.
  WorkCalendar(absl::TimeZone zone, std::array<bool, 7> working,
               std::set<absl::CivilDay> holidays, absl::Duration day_start,
               absl::Duration day_end);

  [[nodiscard]] absl::TimeZone zone() const { return zone_; }
  [[nodiscard]] bool IsWorkingDay(absl::CivilDay day) const;
  // End of the `count`-th working day after the local day of `from`;
  // count >= 1, `from` finite. Ten years without a working day count as one
  // that ends ten years on.
  [[nodiscard]] absl::Time EndOfWorkingDay(absl::Time from, int count) const;
  // End of the local day `days` calendar days after that of `from`, or of the
  // next working day if that is none; days >= 0, `from` finite.
  [[nodiscard]] absl::Time EndOfDayAfter(absl::Time from, int days) const;
  // The moment by which `time` has been worked since `from`: time runs only
  // from the start to the end of working days, as fast as on a stopwatch.
  // `time` > 0, `from` finite. What ten years do not hold is over when they
  // are.
  [[nodiscard]] absl::Time AfterWorkingTime(absl::Time from,
                                            absl::Duration time) const;

 private:
  [[nodiscard]] absl::CivilDay NextWorkingDay(absl::CivilDay day) const;
  // What the clock shows on that day `from_midnight`.
  [[nodiscard]] absl::Time On(absl::CivilDay day,
                              absl::Duration from_midnight) const;

  absl::TimeZone zone_;
  std::array<bool, 7> working_;
  std::set<absl::CivilDay> holidays_;
  absl::Duration day_start_;
  absl::Duration day_end_;
};

}  // namespace turnstone
