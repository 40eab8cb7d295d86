// Whether totals go one way more steadily than chance, when missing answers
// leave some of them a range.
#pragma once

#include <vector>

#include "rules/measure/catalogue.h"
#include "rules/measure/truth.h"

namespace turnstone {

struct TimedInterval {
  double day = 0;  // from any origin
  Interval total;
};

// Whether the values rise (with `rising`, else fall) and an S as far from 0 has
// a two-sided probability of at most `p`: true or false where every set of
// totals the missing answers leave possible agrees. Unknown where they differ,
// or are more than 64 and numerous enough for any order to be so rare. Pure.
[[nodiscard]] Truth GoesOneWay(const std::vector<TimedInterval>& series,
                               bool rising, double p);

}  // namespace turnstone
