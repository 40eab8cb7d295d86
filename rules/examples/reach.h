// What a rule and the conditions in it can be, whatever happens.
#pragma once

#include <vector>

#include "rules/examples/coverage.h"
#include "rules/measure/catalogue.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// Whether there is a case in which it is.
struct CanBe {
  bool is_true = false;
  bool is_false = false;
};

struct Reach {
  // Every condition of the rule, itself first, in the order written.
  std::vector<CanBe> part;
  // What an example of each single condition could show at all.
  std::vector<Shown> could_show;
  // There are too many combinations to go through: everything above is taken to
  // be possible.
  bool too_many = false;
};

// Pure. REQUIRES: as ForEachCombination.
[[nodiscard]] Reach ReachOf(const v1::Rule& rule, const Catalogue& catalogue);

}  // namespace turnstone
