// Cases of single conditions that rest on one and the same thing. For tied.cc.
#pragma once

#include <optional>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "rules/examples/tied.h"

namespace turnstone {

using TruthRows = std::set<std::vector<Truth>>;

// Adds what all of `tied` are, by what `is` says of each.
template <typename Is>
void AddCase(const Singles& tied, const Is& is, TruthRows& truths) {
  std::vector<Truth> found;
  found.reserve(tied.size());
  for (const v1::Condition* each : tied) found.push_back(is(*each));
  truths.insert(std::move(found));
}

// Of the instruments that `rule` is asked about.
[[nodiscard]] std::vector<const Scale*> ScalesAsked(const v1::Rule& rule,
                                                    const Catalogue& catalogue);
// Which item a condition on an item is about; absent if there is none.
[[nodiscard]] std::optional<size_t> ItemLookedAt(const v1::Condition& condition,
                                                 const Scale& scale);

// Add every case. REQUIRES: all of `tied` are on the total of one instrument,
// on one item, on the result. Pure.
void AddTotals(const Singles& tied, const v1::Rule& rule,
               const Catalogue& catalogue, TruthRows& truths);
void AddItems(const Singles& tied, const v1::Rule& rule,
              const Catalogue& catalogue, TruthRows& truths);
void AddResults(const Singles& tied, const v1::Rule& rule,
                const Catalogue& catalogue, TruthRows& truths);

}  // namespace turnstone
