// Forms of any instrument we ship, at random, with answers left out. To be
// called from within a property.
#pragma once

#include <cstddef>
#include <vector>

#include "rules/measure/catalogue.h"

namespace turnstone::testing {

struct PartialForm {
  const Scale* scale = nullptr;
  // By item: which of its answers is ticked, or will be once it is complete.
  std::vector<size_t> ticks;
  std::vector<bool> blank;
};

// Any instrument that has items.
const Scale& DrawScale();
// About one answer in six is left out, but no more than `blanks_max`.
PartialForm DrawForm(const Scale& scale, int blanks_max);

// Totals the form allows with its blanks, and with every item answered.
Interval PartialTotal(const PartialForm& form);
Interval CompleteTotal(const PartialForm& form);

}  // namespace turnstone::testing
