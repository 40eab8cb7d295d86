#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "rules/measure/slope.h"

namespace turnstone {
namespace {

// Boost must return, never throw: what it is given is checked beforehand.
using Quiet = boost::math::policies::policy<
    boost::math::policies::domain_error<boost::math::policies::ignore_error>,
    boost::math::policies::pole_error<boost::math::policies::ignore_error>,
    boost::math::policies::overflow_error<boost::math::policies::ignore_error>,
    boost::math::policies::evaluation_error<
        boost::math::policies::ignore_error>>;
using StudentsT = boost::math::students_t_distribution<double, Quiet>;

// Sums around the means.
struct Sums {
  double mean_day = 0;
  double mean_value = 0;
  double days = 0;    // squares
  double values = 0;  // squares
  double both = 0;    // products
};

Sums SumUp(const std::vector<TimedValue>& series) {
  Sums sums;
  const auto n = static_cast<double>(series.size());
  for (const TimedValue& point : series) {
    sums.mean_day += point.day / n;
    sums.mean_value += point.value / n;
  }
  for (const TimedValue& point : series) {
    const double day = point.day - sums.mean_day;
    const double value = point.value - sums.mean_value;
    sums.days += day * day;
    sums.values += value * value;
    sums.both += day * value;
  }
  return sums;
}

// What the line leaves over, squared and summed; taken point by point, since
// the difference of two large sums would lose it.
double Residue(const std::vector<TimedValue>& series,
               const LeastSquaresLine& line) {
  double sum = 0;
  for (const TimedValue& point : series) {
    const double off = point.value - line.intercept - line.slope * point.day;
    sum += off * off;
  }
  return sum;
}

// Of the days or the values. Sums cannot tell: the mean of equal numbers may
// differ from them in the last digit.
bool AllEqual(const std::vector<TimedValue>& series,
              double TimedValue::*member) {
  return std::all_of(series.begin(), series.end(),
                     [&](const TimedValue& point) {
                       return point.*member == series[0].*member;
                     });
}

void AddCertainty(double error, double freedom, LeastSquaresLine& line) {
  line.slope_error = error;
  const StudentsT t(freedom);
  const double reach = boost::math::quantile(t, 0.975) * error;
  line.slope_95 = SlopeRange{line.slope - reach, line.slope + reach};
  if (error == 0) {
    line.p_two_sided = line.slope == 0 ? 1.0 : 0.0;
    return;
  }
  const double ratio = std::abs(line.slope) / error;
  line.p_two_sided = 2 * boost::math::cdf(boost::math::complement(t, ratio));
}

}  // namespace

std::optional<LeastSquaresLine> LeastSquares(
    const std::vector<TimedValue>& series) {
  if (AllEqual(series, &TimedValue::day)) return std::nullopt;
  const Sums sums = SumUp(series);
  const bool constant = AllEqual(series, &TimedValue::value);
  LeastSquaresLine line;
  line.slope = constant ? 0 : sums.both / sums.days;
  line.intercept = sums.mean_value - line.slope * sums.mean_day;
  if (!constant) {
    line.r =
        std::clamp(sums.both / std::sqrt(sums.days * sums.values), -1.0, 1.0);
  }
  if (series.size() < 3) return line;
  const auto freedom = static_cast<double>(series.size() - 2);
  const double residue = constant ? 0 : Residue(series, line);
  AddCertainty(std::sqrt(residue / freedom / sums.days), freedom, line);
  return line;
}

}  // namespace turnstone
