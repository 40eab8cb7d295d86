#include "rules/measure/reliable_change.h"

#include <algorithm>
#include <cmath>

namespace turnstone {
namespace {

// What binary fractions may add to a whole number of points.
constexpr double kPointRounding = 1e-9;

}  // namespace

double StandardErrorOfMeasurement(const Reliability& measure) {
  return measure.sd * std::sqrt(1 - measure.r);
}

double StandardErrorOfDifference(const Reliability& measure) {
  return std::sqrt(2.0) * StandardErrorOfMeasurement(measure);
}

double ReliableChangeIndex(double before, double after,
                           const Reliability& measure) {
  return (after - before) / StandardErrorOfDifference(measure);
}

double ReliableChangePoints(const Reliability& measure) {
  return kReliable * StandardErrorOfDifference(measure);
}

int SmallestReliableWholeChange(const Reliability& measure) {
  const double points = ReliableChangePoints(measure) - kPointRounding;
  return std::max(1, static_cast<int>(std::ceil(points)));
}

double CutBetween(const Group& patients, const Group& others) {
  return (others.sd * patients.mean + patients.sd * others.mean) /
         (patients.sd + others.sd);
}

}  // namespace turnstone
