// Rules that are asked over one and the same record.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/setup.h"

namespace turnstone {

// To which of the two configurations a rule belongs.
struct Sides {
  bool before = false;
  bool after = false;
};

struct Lane {
  const Catalogue* catalogue = nullptr;
  // With the rules of this lane, and of them only what decides.
  Site site;
  std::vector<Sides> sides;  // by rule
};

// One lane where both configurations read a record alike (same instruments,
// calendar and number of visits); a rule that is the same on both sides is in
// it once. Else a lane for each. What they are made from must outlive them.
// Pure. REQUIRES: both have the site.
[[nodiscard]] std::vector<Lane> MakeLanes(const Setup& before,
                                          const Setup& after,
                                          const std::string& site);

}  // namespace turnstone
