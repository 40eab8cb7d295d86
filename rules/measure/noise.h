// How often a rule on change speaks of somebody whose true state never changes:
// measurement error alone moves totals about.
#pragma once

#include <optional>

namespace turnstone {

// A rule on change, by what it compares. Errors are taken to be normal and
// independent and totals not to be rounded, so that better and worse are alike.
struct ChangeAlarm {
  enum class Kind {
    kThanBaseline,  // beyond the first by `points`, `times` in a row
    kThanPrevious,  // beyond the one before by `points`, `times` in a row
    kThanBest,      // beyond the best before by `points`, `times` in a row
    kRises,         // beyond the one before, `times` in a row
    kTrend,         // Mann-Kendall one way, two-sided probability at most `p`
  };
  Kind kind = Kind::kThanBaseline;
  double points = 0;
  int times = 1;
  double p = 0;
};

struct Chance {
  double share = 0;  // 0 to 1
  // Standard error of `share` where it was simulated; absent where exact.
  std::optional<double> error;
};

// The chance that the alarm goes off at one or more of `follow_ups` screenings
// after the first. `sem`: standard error of measurement, in points, above 0;
// rises and trends do not depend on it. 1 <= follow_ups <= 13.
// Exact by integration for one excess over the baseline, and over all orders
// for rises and trends up to 7 follow-ups; else from 400,000 simulated courses
// that are the same at every call. Pure.
[[nodiscard]] Chance ChanceOfFalseAlarm(const ChangeAlarm& alarm, double sem,
                                        int follow_ups);

}  // namespace turnstone
