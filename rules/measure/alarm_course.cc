#include "rules/measure/alarm_course.h"

#include <algorithm>
#include <limits>

#include "rules/measure/permutation.h"

namespace turnstone {
namespace {

constexpr int kNever = std::numeric_limits<int>::max();

// The smallest S of `n` different totals whose two-sided probability is at most
// `p`.
int CriticalS(int n, double p) {
  const std::vector<int> once(static_cast<size_t>(n), 1);
  const SDistribution all = *DistributionOfS(once, once);
  double above = 0;
  int critical = kNever;
  int s = all.largest;
  // From the highest S down.
  for (auto share = all.probability.rbegin();; ++share) {
    above += *share;
    if (s == 0 || 2 * above > p + kSumRounding) return critical;
    critical = s--;
  }
}

}  // namespace

AlarmCourse::AlarmCourse(const ChangeAlarm& alarm, int longest)
    : alarm_(alarm) {
  if (alarm.kind != ChangeAlarm::Kind::kTrend) return;
  for (int n = 0; n <= longest; ++n) {
    critical_s_.push_back(n < 2 ? kNever : CriticalS(n, alarm.p));
  }
}

bool AlarmCourse::TrendAt(const std::vector<double>& totals, size_t at) const {
  int s = 0;
  for (size_t i = 0; i < at; ++i) {
    for (size_t j = i + 1; j <= at; ++j) s += totals[j] > totals[i] ? 1 : -1;
  }
  return s >= critical_s_[at + 1];
}

bool AlarmCourse::AtOne(const std::vector<double>& totals, size_t at,
                        double points) const {
  switch (alarm_.kind) {
    case ChangeAlarm::Kind::kThanBaseline:
      return totals[at] - totals[0] >= points;
    case ChangeAlarm::Kind::kThanPrevious:
      return totals[at] - totals[at - 1] >= points;
    case ChangeAlarm::Kind::kThanBest: {
      const auto end = totals.begin() + static_cast<std::ptrdiff_t>(at);
      return totals[at] - *std::min_element(totals.begin(), end) >= points;
    }
    case ChangeAlarm::Kind::kRises:
      return totals[at] > totals[at - 1];
    case ChangeAlarm::Kind::kTrend:
      break;
  }
  return TrendAt(totals, at);
}

bool AlarmCourse::GoesOff(const std::vector<double>& totals,
                          double points) const {
  int row = 0;
  for (size_t at = 1; at < totals.size(); ++at) {
    row = AtOne(totals, at, points) ? row + 1 : 0;
    if (row >= alarm_.times) return true;
  }
  return false;
}

}  // namespace turnstone
