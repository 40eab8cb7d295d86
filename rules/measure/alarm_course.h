// Whether a rule on change goes off in a course of unrounded totals.
#pragma once

#include <vector>

#include "rules/measure/noise.h"

namespace turnstone {

// Immutable once made.
class AlarmCourse {
 public:
  // For courses of up to `longest` totals.
  AlarmCourse(const ChangeAlarm& alarm, int longest);
  // Whether it goes off at one or more of the totals after the first; higher
  // totals are worse. `points` are in the unit of `totals`.
  [[nodiscard]] bool GoesOff(const std::vector<double>& totals,
                             double points) const;

 private:
  [[nodiscard]] bool AtOne(const std::vector<double>& totals, size_t at,
                           double points) const;
  [[nodiscard]] bool TrendAt(const std::vector<double>& totals,
                             size_t at) const;

  ChangeAlarm alarm_;
  // By number of totals: the smallest S that is rare enough.
  std::vector<int> critical_s_;
};

}  // namespace turnstone
