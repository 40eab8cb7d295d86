// Whether a candidate might raise fewer safety alerts than what is in force.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/setup.h"

namespace turnstone {

// Why there may be fewer at the site, a sentence each; empty if there cannot
// be. Cautious: a safety rule whose condition, occasion or instrument differs
// at all counts, even where the new one might raise more; a higher priority or
// another text does not. A safety rule that is added never counts. Pure.
[[nodiscard]] std::vector<std::string> FewerSafety(const std::string& site,
                                                   const Setup& before,
                                                   const Setup& after);

}  // namespace turnstone
