// What a configuration that is right today will need, and when.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <functional>
#include <string>
#include <vector>

#include "turnstone/v1/site.pb.h"

namespace turnstone::cli {

// From which moment to look ahead, on a site's clocks.
using LookFrom = std::function<absl::Time(absl::TimeZone zone)>;

// The beginning of an ISO 8601 day, or `now` if `day` is empty.
// INVALID_ARGUMENT saying what to write.
[[nodiscard]] absl::StatusOr<LookFrom> ParseLookFrom(const std::string& day,
                                                     absl::Time now);

struct SiteConcern {
  std::string site;
  std::string concern;
};

// Of every site, in the order of the configuration. REQUIRES: it was checked.
[[nodiscard]] std::vector<SiteConcern> ConcernsOfSites(
    const v1::Configuration& configuration, const LookFrom& from);

// "to see to: SITE: CONCERN", wrapped, or one JSON object a line.
[[nodiscard]] std::string ConcernsText(const std::vector<SiteConcern>& concerns,
                                       bool json);

}  // namespace turnstone::cli
