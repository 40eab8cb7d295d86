// Proving the safety properties of a site's rules, by going through every case.
#pragma once

#include <absl/time/time.h>

#include <functional>
#include <string>
#include <vector>

#include "rules/engine/setup.h"
#include "rules/prove/proof.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Told the id of each property before it is gone through.
using ProveProgress = std::function<void(const std::string& id)>;

// What became of every property of `sets`, in their order, and then of every
// division of the site's rule set. Deterministic. `from`: the time from which
// ladders and rotas are looked at. Takes seconds; may run on any thread.
// REQUIRES: configuration and property sets passed LoadConfiguration.
[[nodiscard]] std::vector<Proof> Prove(const Site& site,
                                       const Catalogue& catalogue,
                                       const std::vector<v1::PropertySet>& sets,
                                       absl::Time from,
                                       const ProveProgress& progress);

}  // namespace turnstone
