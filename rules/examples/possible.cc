#include "rules/examples/possible.h"

#include <map>
#include <string>

#include "rules/examples/formula.h"
#include "rules/examples/tied.h"

namespace turnstone {
namespace {

// Single conditions that are tied, by number, and what they can be together.
struct Bundle {
  std::vector<size_t> at;
  std::vector<std::vector<Truth>> truths;
};

std::vector<Bundle> BundlesOf(const v1::Rule& rule,
                              const Catalogue& catalogue) {
  const Singles singles = SinglesOf(rule.condition());
  std::map<std::string, std::vector<size_t>> by_ground;
  for (size_t i = 0; i < singles.size(); ++i) {
    by_ground[RestsOn(*singles[i], rule, catalogue)].push_back(i);
  }
  std::vector<Bundle> bundles;
  for (const auto& [ground, at] : by_ground) {
    Singles tied;
    tied.reserve(at.size());
    for (const size_t i : at) tied.push_back(singles[i]);
    const auto truths = TiedTruths(tied, rule, catalogue);
    bundles.push_back({at, {truths.begin(), truths.end()}});
  }
  return bundles;
}

// Fills in what the bundles from `first` on can be, in every way.
void GoThrough(const std::vector<Bundle>& bundles, size_t first,
               std::vector<Truth>& singles,
               const std::function<void(const std::vector<Truth>&)>& use) {
  if (first == bundles.size()) return use(singles);
  const Bundle& bundle = bundles[first];
  for (const std::vector<Truth>& truths : bundle.truths) {
    for (size_t i = 0; i < truths.size(); ++i) {
      singles[bundle.at[i]] = truths[i];
    }
    GoThrough(bundles, first + 1, singles, use);
  }
}

}  // namespace

bool ForEachCombination(
    const v1::Rule& rule, const Catalogue& catalogue,
    const std::function<void(const std::vector<Truth>&)>& use) {
  const std::vector<Bundle> bundles = BundlesOf(rule, catalogue);
  size_t combinations = 1;
  size_t count = 0;
  for (const Bundle& bundle : bundles) {
    combinations *= bundle.truths.size();
    count += bundle.at.size();
    if (combinations > kMostCombinations) return false;
  }
  std::vector<Truth> singles(count, v1::TRUTH_UNKNOWN);
  GoThrough(bundles, 0, singles, use);
  return true;
}

}  // namespace turnstone
