// Change beyond what measurement error explains.
// Source: Jacobson & Truax 1991, J Consult Clin Psychol 59:12, with the square
// root of 2 that Christensen & Mendoza 1986 added to the version of 1984.
#pragma once

namespace turnstone {

// Spread and reliability of a measure. REQUIRES: sd > 0, in points of the
// total; 0 <= r < 1.
struct Reliability {
  double sd = 0;
  double r = 0;
};

// 97.5th percentile of the standard normal distribution, as the paper rounds
// it.
inline constexpr double kReliable = 1.96;

// Standard error of measurement, in points: sd sqrt(1 - r). Pure.
[[nodiscard]] double StandardErrorOfMeasurement(const Reliability& measure);
// Standard error of the difference of two totals, in points. Pure.
[[nodiscard]] double StandardErrorOfDifference(const Reliability& measure);
// The change in standard errors of the difference; reliable beyond
// +-kReliable. Pure.
[[nodiscard]] double ReliableChangeIndex(double before, double after,
                                         const Reliability& measure);
// Points from which a change is reliable. Pure.
[[nodiscard]] double ReliableChangePoints(const Reliability& measure);
// The same as a whole number of points, rounded up; 1 or more. Pure.
[[nodiscard]] int SmallestReliableWholeChange(const Reliability& measure);

// Mean and standard deviation of a group, in points.
struct Group {
  double mean = 0;
  double sd = 0;
};
// Where a total is as likely to belong to either group: the paper's cut c.
// REQUIRES: both sd above 0. Pure.
[[nodiscard]] double CutBetween(const Group& patients, const Group& others);

}  // namespace turnstone
