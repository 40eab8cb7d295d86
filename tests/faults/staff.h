// What people do with alerts, sensible or not.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "tests/faults/random.h"
#include "turnstone/v1/service.pb.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::faults {

[[nodiscard]] v1::Actor AnyPerson(const v1::SiteConfig& site, Random& random);

// Anything that can be done with `alert`; mostly what fits. `note` is to be
// told apart from every other.
[[nodiscard]] v1::WorkAlertRequest AnyWork(const v1::Alert& alert,
                                           absl::Time now,
                                           const std::string& note,
                                           Random& random);

}  // namespace turnstone::faults
