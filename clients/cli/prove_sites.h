// Proving what must hold of every site of a configuration.
#pragma once

#include <absl/status/statusor.h>

#include <vector>

#include "clients/cli/command.h"
#include "clients/cli/render/proof_page.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::cli {

// Of each site, or of each rule set with its own numbers where there is no
// site. Says on a terminal where it is. NOT_FOUND, saying what to add, if there
// is nothing to prove. REQUIRES: `configuration` was checked.
[[nodiscard]] absl::StatusOr<std::vector<SiteProofs>> ProveAll(
    const Console& console, const v1::Configuration& configuration);

}  // namespace turnstone::cli
