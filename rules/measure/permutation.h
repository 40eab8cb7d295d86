// The distribution of the Mann-Kendall S over every order of the same values.
#pragma once

#include <map>
#include <optional>
#include <utility>
#include <vector>

namespace turnstone {

// By this much a sum of probabilities may miss a limit that it reaches exactly.
inline constexpr double kSumRounding = 1e-12;

// Probability of each S from -largest to largest.
struct SDistribution {
  int largest = 0;
  std::vector<double> probability;  // by S + largest
};

// `group_sizes`: how many values there are on each day, in order of days.
// `value_counts`: how often each value occurs, in order of values. Both add up
// to the same number. Absent where there are too many orders to go through:
// with more ways to have used up a part of the values, times values of S, than
// 14 different values have.
// Ties of days and of values are taken in as they are. Pure.
[[nodiscard]] std::optional<SDistribution> DistributionOfS(
    const std::vector<int>& group_sizes, const std::vector<int>& value_counts);

// Keeps what was reckoned, up to a limit. Thread-compatible.
class KnownDistributions {
 public:
  // As DistributionOfS; valid until the next call.
  const std::optional<SDistribution>& Of(const std::vector<int>& group_sizes,
                                         std::vector<int> value_counts);

 private:
  std::map<std::pair<std::vector<int>, std::vector<int>>,
           std::optional<SDistribution>>
      known_;
};

}  // namespace turnstone
