// The Mann-Kendall test by brute force: every order of the totals is tried.
#pragma once

#include <vector>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::second {

struct Possible {
  int low = 0;
  int high = 0;
  // Forms of the same moment have the same number: neither comes after the
  // other, and the two say nothing of which way the totals go.
  int moment = 0;
};

// Whether the totals rise (else fall), and an S as far from 0 comes up in at
// most so many of 1000 orders. Unknown where the missing answers decide, and
// where they leave more than 64 sets of totals (rules/measure/trend_truth.h;
// the proto names no limit). REQUIRES: 8 totals at most.
[[nodiscard]] v1::Truth BeyondChance(const std::vector<Possible>& totals,
                                     bool rising, int per_thousand);

}  // namespace turnstone::second
