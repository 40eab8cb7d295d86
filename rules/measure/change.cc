#include "rules/measure/change.h"

#include <set>

namespace turnstone {
namespace {

// Whether `change` is at least `percent` of `of`.
bool IsPercentOf(int change, int of, int percent) {
  return change >= 1 && 100 * change >= percent * of;
}

v1::CourseOutcome OutcomeOf(int baseline, int latest,
                            const OutcomeThresholds& thresholds) {
  const int fall = baseline - latest;
  if (-fall >= thresholds.reliable_change) return v1::COURSE_OUTCOME_WORSE;
  if (latest <= thresholds.remission_at_most) {
    return v1::COURSE_OUTCOME_REMISSION;
  }
  if (IsPercentOf(fall, baseline, thresholds.response_percent)) {
    return v1::COURSE_OUTCOME_RESPONSE;
  }
  if (fall >= thresholds.reliable_change) return v1::COURSE_OUTCOME_PARTIAL;
  return v1::COURSE_OUTCOME_NO_CHANGE;
}

// True where even the least favourable pair of totals says so, unknown where
// only the most favourable does.
Truth Between(bool at_worst, bool at_best) {
  if (at_worst) return v1::TRUTH_TRUE;
  return at_best ? v1::TRUTH_UNKNOWN : v1::TRUTH_FALSE;
}

}  // namespace

Truth Within(Interval total, Interval range) {
  if (total.low >= range.low && total.high <= range.high) {
    return v1::TRUTH_TRUE;
  }
  if (total.high < range.low || total.low > range.high) return v1::TRUTH_FALSE;
  return v1::TRUTH_UNKNOWN;
}

Truth AtLeast(Interval value, int least) {
  return Between(value.low >= least, value.high >= least);
}

Interval Worsening(const Scale& scale, Interval earlier, Interval later) {
  if (scale.definition().direction() == v1::DIRECTION_HIGHER_IS_BETTER) {
    return {earlier.low - later.high, earlier.high - later.low};
  }
  return {later.low - earlier.high, later.high - earlier.low};
}

Truth RoseByPercent(Interval earlier, Interval later, int percent) {
  return Between(IsPercentOf(later.low - earlier.high, earlier.high, percent),
                 IsPercentOf(later.high - earlier.low, earlier.low, percent));
}

// 100 (earlier - later) >= percent x earlier is (100 - percent) x earlier >=
// 100 x later: the larger the earlier total, the sooner it holds.
Truth FellByPercent(Interval earlier, Interval later, int percent) {
  return Between(IsPercentOf(earlier.low - later.high, earlier.low, percent),
                 IsPercentOf(earlier.high - later.low, earlier.high, percent));
}

std::vector<v1::CourseOutcome> PossibleOutcomes(
    Interval baseline, Interval latest, const OutcomeThresholds& thresholds) {
  std::set<v1::CourseOutcome> possible;
  for (int before = baseline.low; before <= baseline.high; ++before) {
    for (int now = latest.low; now <= latest.high; ++now) {
      possible.insert(OutcomeOf(before, now, thresholds));
    }
  }
  return {possible.begin(), possible.end()};
}

}  // namespace turnstone
