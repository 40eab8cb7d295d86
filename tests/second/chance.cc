#include "tests/second/chance.h"

#include <algorithm>
#include <cstdlib>
#include <functional>
#include <iterator>
#include <map>

namespace turnstone::second {
namespace {

using Numbers = std::vector<int>;

int S(const Numbers& moments, const Numbers& totals) {
  int s = 0;
  for (size_t i = 0; i < totals.size(); ++i) {
    for (size_t j = i + 1; j < totals.size(); ++j) {
      if (moments[i] == moments[j]) continue;
      s += (totals[j] > totals[i]) - (totals[j] < totals[i]);
    }
  }
  return s;
}

// How many orders give each |S|. Equal totals are not told apart: each of the
// orders that can be told apart stands for the same number of them all.
std::map<int, int> CountOrders(const Numbers& moments, Numbers totals) {
  std::sort(totals.begin(), totals.end());
  std::map<int, int> orders;
  do {
    ++orders[std::abs(S(moments, totals))];
  } while (std::next_permutation(totals.begin(), totals.end()));
  return orders;
}

// Totals by rank: 4, 9, 4 becomes 0, 0, 1. S over all orders does not change.
Numbers Ranks(const Numbers& totals) {
  Numbers ranks;
  for (const int total : totals) {
    Numbers lower;
    std::copy_if(totals.begin(), totals.end(), std::back_inserter(lower),
                 [&](int other) { return other < total; });
    std::sort(lower.begin(), lower.end());
    const auto end = std::unique(lower.begin(), lower.end());
    ranks.push_back(static_cast<int>(end - lower.begin()));
  }
  std::sort(ranks.begin(), ranks.end());
  return ranks;
}

// 8! orders take a while; each pattern of ties is gone through once.
const std::map<int, int>& OrdersOf(const Numbers& moments,
                                   const Numbers& totals) {
  static std::map<std::pair<Numbers, Numbers>, std::map<int, int>> known;
  const Numbers ranks = Ranks(totals);
  auto [at, is_new] = known.try_emplace({moments, ranks});
  if (is_new) at->second = CountOrders(moments, ranks);
  return at->second;
}

bool IsRare(const Numbers& moments, const Numbers& totals, bool rising,
            int per_thousand) {
  const int s = S(moments, totals);
  if (rising ? s <= 0 : s >= 0) return false;
  int all = 0;
  int as_far = 0;
  for (const auto& [distance, orders] : OrdersOf(moments, totals)) {
    all += orders;
    if (distance >= std::abs(s)) as_far += orders;
  }
  return 1000 * as_far <= per_thousand * all;
}

// Every set of totals from the `at`-th on; what comes before is in `chosen`.
void TryAll(const std::vector<Possible>& totals, Numbers& chosen,
            const std::function<void(const Numbers&)>& use) {
  if (chosen.size() == totals.size()) return use(chosen);
  const Possible& next = totals[chosen.size()];
  for (int total = next.low; total <= next.high; ++total) {
    chosen.push_back(total);
    TryAll(totals, chosen, use);
    chosen.pop_back();
  }
}

}  // namespace

v1::Truth BeyondChance(const std::vector<Possible>& totals, bool rising,
                       int per_thousand) {
  // The rarest there is: all in order, one way or the other.
  int orders = 1;
  int64_t sets = 1;
  Numbers moments;
  for (size_t i = 0; i < totals.size(); ++i) {
    orders *= static_cast<int>(i) + 1;
    sets *= totals[i].high - totals[i].low + 1;
    moments.push_back(totals[i].moment);
  }
  if (2 * 1000 > per_thousand * orders) return v1::TRUTH_FALSE;
  if (sets > 64) return v1::TRUTH_UNKNOWN;
  bool rare = false;
  bool common = false;
  Numbers chosen;
  TryAll(totals, chosen, [&](const Numbers& each) {
    (IsRare(moments, each, rising, per_thousand) ? rare : common) = true;
  });
  if (rare && common) return v1::TRUTH_UNKNOWN;
  return rare ? v1::TRUTH_TRUE : v1::TRUTH_FALSE;
}

}  // namespace turnstone::second
