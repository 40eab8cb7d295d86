// What is on record about an alert.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "clients/cli/render/page.h"
#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {

// "s-3 from urn:example:intake".
[[nodiscard]] std::string EventName(const std::string& source,
                                    const std::string& id);

// "the service"; "r.sorrel, clinician (as stated)".
[[nodiscard]] std::string ActorText(const v1::Actor& actor);

// Sections: what was known each time it was raised, which rule spoke, and what
// happened since. REQUIRES: `alert` was cleaned.
void AppendRecord(const v1::Alert& alert, absl::TimeZone zone, Page& page);

}  // namespace turnstone::cli
