// What a total is held against, and every pair the missing answers leave.
#pragma once

#include "tests/second/asked.h"

namespace turnstone::second {

using Row = std::vector<const Fact*>;  // forms, oldest first

struct Range {
  int low = 0;
  int high = 0;
};

// The last of `earlier` up to enrolment, else the first; those declined as a
// whole are passed over. Null if none is left.
[[nodiscard]] const Fact* Baseline(const Row& earlier, const Asked& asked);

// What the last form of `row` is held against; nothing if there is nothing.
[[nodiscard]] std::optional<Range> HeldAgainst(v1::ComparedWith than,
                                               const Row& row,
                                               const Asked& asked);

// Every earlier total with every later one.
[[nodiscard]] v1::Truth OfEachPair(const Range& earlier, const Form& later,
                                   const std::function<bool(int, int)>& holds);

}  // namespace turnstone::second
