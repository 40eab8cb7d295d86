#include "rules/measure/trend_truth.h"

#include "rules/measure/mann_kendall.h"

namespace turnstone {
namespace {

constexpr double kMostSets = 64;

double SetsOf(const std::vector<TimedInterval>& series) {
  double sets = 1;
  for (const TimedInterval& point : series) {
    sets *= point.total.high - point.total.low + 1;
  }
  return sets;
}

// No order of n values is rarer than its own reverse and itself together.
double Rarest(size_t n) {
  double orders = 1;
  for (size_t i = 2; i <= n; ++i) orders *= static_cast<double>(i);
  return 2 / orders;
}

// Moves `values` on to the next possible set; false after the last one.
bool Next(const std::vector<TimedInterval>& series,
          std::vector<TimedValue>& values) {
  for (size_t i = 0; i < series.size(); ++i) {
    if (values[i].value < series[i].total.high) {
      ++values[i].value;
      return true;
    }
    values[i].value = series[i].total.low;
  }
  return false;
}

}  // namespace

Truth GoesOneWay(const std::vector<TimedInterval>& series, bool rising,
                 double p) {
  if (Rarest(series.size()) > p + kSumRounding) return v1::TRUTH_FALSE;
  if (SetsOf(series) > kMostSets) return v1::TRUTH_UNKNOWN;
  std::vector<TimedValue> values;
  values.reserve(series.size());
  for (const TimedInterval& point : series) {
    values.push_back({point.day, static_cast<double>(point.total.low)});
  }
  bool always = true;
  bool ever = false;
  // Most people's scores are tied in one of few ways.
  thread_local KnownDistributions known;
  do {
    const MannKendall test = TestTrend(values, known);
    const bool goes = (rising ? test.s > 0 : test.s < 0) &&
                      test.p_two_sided <= p + kSumRounding;
    always = always && goes;
    ever = ever || goes;
    // Once they differ it is settled.
  } while ((always || !ever) && Next(series, values));
  if (always) return v1::TRUTH_TRUE;
  return ever ? v1::TRUTH_UNKNOWN : v1::TRUTH_FALSE;
}

}  // namespace turnstone
