#include "rules/measure/permutation.h"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

namespace turnstone {
namespace {

// What 14 different values take: every part of them, with every S.
constexpr double kMostWork = (1 << 14) * 183.0;

// More than there are ways in which up to 14 scores can be tied (627, the
// partitions of 1 to 14).
constexpr size_t kMostKnown = 1000;

// How many of each value are not yet placed on a day.
using Left = std::vector<int>;

// Places the values day by day. What matters of the past is only which values
// are left, so orders that leave the same ones are counted together.
class Placing {
 public:
  Placing(int largest, Left values) : largest_(largest) {
    ways_[std::move(values)] = Start();
  }

  // Places `size` values on the next day, in every way.
  void Day(int size) {
    std::map<Left, std::vector<double>> next;
    next.swap(ways_);
    for (const auto& [left, ways] : next) {
      Left picked(left.size());
      Pick(left, ways, 0, size, 1, picked);
    }
  }

  // REQUIRES: every value is placed.
  [[nodiscard]] SDistribution Finish() const {
    SDistribution distribution{largest_, ways_.begin()->second};
    const double all = std::accumulate(distribution.probability.begin(),
                                       distribution.probability.end(), 0.0);
    for (double& share : distribution.probability) share /= all;
    return distribution;
  }

 private:
  [[nodiscard]] std::vector<double> Start() const {
    std::vector<double> ways(Size());
    ways[static_cast<size_t>(largest_)] = 1;
    return ways;
  }
  [[nodiscard]] size_t Size() const {
    return 2 * static_cast<size_t>(largest_) + 1;
  }

  // Chooses how many of the values from `index` on go on this day; `weight`
  // counts the ways to choose those before.
  void Pick(const Left& left, const std::vector<double>& ways, size_t index,
            int size, double weight, Left& picked) {
    if (index == left.size()) {
      if (size == 0) Place(left, ways, weight, picked);
      return;
    }
    double choices = weight;
    for (int count = 0; count <= left[index] && count <= size; ++count) {
      picked[index] = count;
      Pick(left, ways, index + 1, size - count, choices, picked);
      // The next binomial coefficient from this one.
      choices = choices * (left[index] - count) / (count + 1);
    }
    picked[index] = 0;
  }

  void Place(const Left& left, const std::vector<double>& ways, double weight,
             const Left& picked) {
    Left after = left;
    for (size_t i = 0; i < left.size(); ++i) after[i] -= picked[i];
    const int shift = PairsWithLater(picked, after);
    std::vector<double>& sums = ways_[after];
    sums.resize(Size());
    for (size_t at = 0; at < ways.size(); ++at) {
      // No order reaches beyond the largest S, so neither does this.
      if (ways[at] == 0) continue;
      const int moved = static_cast<int>(at) + shift;
      sums[static_cast<size_t>(moved)] += weight * ways[at];
    }
  }

  // What the values picked for a day add to S: later higher ones minus later
  // lower ones.
  static int PairsWithLater(const Left& picked, const Left& after) {
    int higher = std::accumulate(after.begin(), after.end(), 0);
    int lower = 0;
    int sum = 0;
    for (size_t i = 0; i < picked.size(); ++i) {
      higher -= after[i];
      sum += picked[i] * (higher - lower);
      lower += after[i];
    }
    return sum;
  }

  int largest_;
  std::map<Left, std::vector<double>> ways_;
};

}  // namespace

std::optional<SDistribution> DistributionOfS(
    const std::vector<int>& group_sizes, const std::vector<int>& value_counts) {
  const int n = std::accumulate(value_counts.begin(), value_counts.end(), 0);
  double work = static_cast<double>(n) * (n - 1) + 1;
  for (const int count : value_counts) work *= count + 1;
  if (work > kMostWork) return std::nullopt;
  Placing placing(n * (n - 1) / 2, value_counts);
  for (const int size : group_sizes) placing.Day(size);
  return placing.Finish();
}

const std::optional<SDistribution>& KnownDistributions::Of(
    const std::vector<int>& group_sizes, std::vector<int> value_counts) {
  // With a day for each value only the sizes of the ties matter, not which
  // value is tied: the distribution is a product over them.
  if (group_sizes.size() ==
      std::accumulate(value_counts.begin(), value_counts.end(), size_t{0})) {
    std::sort(value_counts.begin(), value_counts.end());
  }
  const std::pair key(group_sizes, value_counts);
  const auto found = known_.find(key);
  if (found != known_.end()) return found->second;
  if (known_.size() >= kMostKnown) known_.clear();
  return known_[key] = DistributionOfS(group_sizes, value_counts);
}

}  // namespace turnstone
