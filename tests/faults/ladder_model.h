// When the next rung of an alert is due, by the site's file alone: a second
// reading of what ladders mean, for the auditor. It shares nothing with the
// service but the file.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::faults {

// The site with that id; null if there is none.
[[nodiscard]] const v1::SiteConfig* SiteNamed(
    const std::string& site, const v1::Configuration& configuration);

// The climb the open alert is on; null while it is on hold.
[[nodiscard]] const v1::Climb* ClimbUnderway(const v1::Alert& alert,
                                             const v1::SiteConfig& site);

// REQUIRES: the alert is open, and of the site.
[[nodiscard]] absl::Time DeadlineByFile(const v1::Alert& alert,
                                        const v1::SiteConfig& site);

}  // namespace turnstone::faults
