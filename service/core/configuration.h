// A configuration's identity, and whether one may follow another.
#pragma once

#include <absl/status/status.h>

#include <string>

#include "turnstone/v1/site.pb.h"

namespace turnstone {

// SHA-256 of the content, in hexadecimal.
[[nodiscard]] std::string DigestOf(const v1::Configuration& configuration);

// FAILED_PRECONDITION if `next` lacks a site or an instrument that `current`
// has: events and alerts that rest on it could no longer be read. Pure.
[[nodiscard]] absl::Status CheckSuccessor(const v1::Configuration& current,
                                          const v1::Configuration& next);

// FAILED_PRECONDITION while a site's words for immediate danger are still the
// placeholder: real people must not be sent to it. Pure.
[[nodiscard]] absl::Status CheckReadyForPeople(
    const v1::Configuration& configuration);

}  // namespace turnstone
