#include "rules/measure/mann_kendall.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace turnstone {
namespace {

int Sign(double difference) {
  return static_cast<int>(difference > 0) - static_cast<int>(difference < 0);
}

std::vector<int> CountsOf(const std::map<double, int>& counted) {
  std::vector<int> counts;
  counts.reserve(counted.size());
  for (const auto& [key, count] : counted) counts.push_back(count);
  return counts;
}

struct Ties {
  std::vector<int> days;    // values on each day, in order
  std::vector<int> values;  // times each value occurs, in order
};

Ties TiesIn(const std::vector<TimedValue>& series) {
  std::map<double, int> days;
  std::map<double, int> values;
  for (const TimedValue& point : series) {
    ++days[point.day];
    ++values[point.value];
  }
  return {CountsOf(days), CountsOf(values)};
}

int SOf(const std::vector<TimedValue>& series) {
  int s = 0;
  for (size_t i = 0; i < series.size(); ++i) {
    for (size_t j = i + 1; j < series.size(); ++j) {
      s += Sign(series[j].day - series[i].day) *
           Sign(series[j].value - series[i].value);
    }
  }
  return s;
}

// The sum over all ties of t (t - 1) ..., as the variance needs it.
template <typename Term>
double SumOver(const std::vector<int>& ties, Term term) {
  double sum = 0;
  for (const int tie : ties) sum += term(static_cast<double>(tie));
  return sum;
}

double Pairs(double t) { return t * (t - 1); }
double Triples(double t) { return t * (t - 1) * (t - 2); }
double Spread(double t) { return t * (t - 1) * (2 * t + 5); }

// Kendall 1975, ties in both rankings. REQUIRES: n >= 2.
double VarianceOf(double n, const Ties& ties) {
  double variance =
      (Spread(n) - SumOver(ties.days, Spread) - SumOver(ties.values, Spread)) /
      18;
  variance +=
      SumOver(ties.days, Pairs) * SumOver(ties.values, Pairs) / (2 * Pairs(n));
  if (n > 2) {
    variance += SumOver(ties.days, Triples) * SumOver(ties.values, Triples) /
                (9 * Triples(n));
  }
  return variance;
}

// Of a standard normal value.
double Upper(double z) { return std::erfc(z / std::sqrt(2.0)) / 2; }

void AddExact(const SDistribution& distribution, MannKendall& result) {
  result.p_two_sided = result.p_upper = result.p_lower = 0;
  int s = -distribution.largest;
  for (const double probability : distribution.probability) {
    if (std::abs(s) >= std::abs(result.s)) result.p_two_sided += probability;
    if (s >= result.s) result.p_upper += probability;
    if (s <= result.s) result.p_lower += probability;
    ++s;
  }
}

void AddNormal(MannKendall& result) {
  result.exact = false;
  const double deviation = std::sqrt(result.variance);
  result.p_two_sided = NormalTwoSided(*result.z_corrected);
  result.p_upper = Upper((result.s - 1) / deviation);
  result.p_lower = Upper((-result.s - 1) / deviation);
}

}  // namespace

double NormalTwoSided(double z) {
  return std::erfc(std::abs(z) / std::sqrt(2.0));
}

MannKendall TestTrend(const std::vector<TimedValue>& series) {
  KnownDistributions known;
  return TestTrend(series, known);
}

MannKendall TestTrend(const std::vector<TimedValue>& series,
                      KnownDistributions& known) {
  MannKendall result;
  if (series.size() < 2) return result;
  const auto n = static_cast<double>(series.size());
  const Ties ties = TiesIn(series);
  result.s = SOf(series);
  result.tau_a = result.s / (Pairs(n) / 2);
  const double untied = (Pairs(n) - SumOver(ties.days, Pairs)) *
                        (Pairs(n) - SumOver(ties.values, Pairs));
  if (untied == 0) return result;
  result.tau_b = result.s / (std::sqrt(untied) / 2);
  result.variance = VarianceOf(n, ties);
  const double deviation = std::sqrt(result.variance);
  result.z = result.s / deviation;
  result.z_corrected = (result.s - Sign(result.s)) / deviation;
  const auto& distribution = known.Of(ties.days, ties.values);
  if (distribution) {
    AddExact(*distribution, result);
  } else {
    AddNormal(result);
  }
  return result;
}

}  // namespace turnstone
