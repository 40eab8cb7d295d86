#include "rules/measure/noise.h"

#include <algorithm>
#include <boost/math/special_functions/erf.hpp>
#include <cmath>
#include <cstdint>
#include <numeric>
#include <vector>

#include "rules/measure/alarm_course.h"

namespace turnstone {
namespace {

constexpr int kMostForAllOrders = 7;  // follow-ups; 8! orders
constexpr int kCourses = 400000;
constexpr uint64_t kSeed = 20270104;

double UpTo(double z) { return std::erfc(-z / std::sqrt(2.0)) / 2; }

// 1 - integral of density(e) x P(no follow-up exceeds e + limit): the trapezoid
// rule is exact to all shown digits for so smooth a curve.
double AboveBaseline(double limit, int follow_ups) {
  constexpr int kStepsToEnd = 9 * 64;  // beyond 9 deviations nothing is left
  constexpr double kStep = 1.0 / 64;
  double quiet = 0;
  for (int step = -kStepsToEnd; step <= kStepsToEnd; ++step) {
    const double e = step * kStep;
    quiet += std::exp(-e * e / 2) * std::pow(UpTo(limit + e), follow_ups);
  }
  return 1 - quiet * kStep / std::sqrt(2 * std::acos(-1.0));
}

// Every order of unrounded totals is as likely.
double OverAllOrders(const AlarmCourse& course, int follow_ups) {
  std::vector<double> totals(static_cast<size_t>(follow_ups) + 1);
  std::iota(totals.begin(), totals.end(), 0);
  double orders = 0;
  double alarms = 0;
  do {
    ++orders;
    if (course.GoesOff(totals, 0)) ++alarms;
  } while (std::next_permutation(totals.begin(), totals.end()));
  return alarms / orders;
}

// Standard normal values, the same for the same seed on every machine.
class Normal {
 public:
  double Next() {
    // SplitMix64 (Steele, Lea, Flood 2014).
    state_ += 0x9e3779b97f4a7c15;
    uint64_t bits = state_;
    bits = (bits ^ (bits >> 30)) * 0xbf58476d1ce4e5b9;
    bits = (bits ^ (bits >> 27)) * 0x94d049bb133111eb;
    bits ^= bits >> 31;
    // Strictly between 0 and 2.
    const double uniform = (static_cast<double>(bits >> 12) + 0.5) * 0x1p-51;
    return std::sqrt(2.0) * boost::math::erfc_inv(uniform);
  }

 private:
  uint64_t state_ = kSeed;
};

Chance Simulate(const AlarmCourse& course, double limit, int follow_ups) {
  Normal normal;
  std::vector<double> totals(static_cast<size_t>(follow_ups) + 1);
  int alarms = 0;
  for (int i = 0; i < kCourses; ++i) {
    for (double& total : totals) total = normal.Next();
    if (course.GoesOff(totals, limit)) ++alarms;
  }
  const double share = static_cast<double>(alarms) / kCourses;
  return {share, std::sqrt(share * (1 - share) / kCourses)};
}

bool NeedsOrderOnly(ChangeAlarm::Kind kind) {
  return kind == ChangeAlarm::Kind::kRises || kind == ChangeAlarm::Kind::kTrend;
}

}  // namespace

Chance ChanceOfFalseAlarm(const ChangeAlarm& alarm, double sem,
                          int follow_ups) {
  const double limit = alarm.points / sem;
  if (alarm.kind == ChangeAlarm::Kind::kThanBaseline && alarm.times == 1) {
    return {AboveBaseline(limit, follow_ups), std::nullopt};
  }
  const AlarmCourse course(alarm, follow_ups + 1);
  if (NeedsOrderOnly(alarm.kind) && follow_ups <= kMostForAllOrders) {
    return {OverAllOrders(course, follow_ups), std::nullopt};
  }
  return Simulate(course, limit, follow_ups);
}

}  // namespace turnstone
