#include "service/core/spread.h"

#include <algorithm>

namespace turnstone {

v1::Times SpreadOf(std::vector<absl::Duration> times) {
  v1::Times spread;
  spread.set_count(static_cast<int>(times.size()));
  if (times.empty()) return spread;
  std::sort(times.begin(), times.end());
  const size_t count = times.size();
  const absl::Duration middle = (times[(count - 1) / 2] + times[count / 2]) / 2;
  spread.set_median(absl::ToInt64Seconds(middle));
  const size_t rank = (9 * count + 9) / 10;  // 0.9 n, rounded up
  spread.set_ninetieth_percentile(absl::ToInt64Seconds(times[rank - 1]));
  spread.set_longest(absl::ToInt64Seconds(times.back()));
  return spread;
}

}  // namespace turnstone
