// A configuration's identity, and whether one may follow another.
#pragma once

#include <absl/status/status.h>
#include <absl/time/time.h>

#include <string>

#include "rules/engine/setup.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// SHA-256 of the content, in hexadecimal.
[[nodiscard]] std::string DigestOf(const v1::Configuration& configuration);

// FAILED_PRECONDITION if `next` lacks a site or an instrument that `current`
// has: events and alerts that rest on it could no longer be read. Pure.
[[nodiscard]] absl::Status CheckSuccessor(const v1::Configuration& current,
                                          const v1::Configuration& next);

// FAILED_PRECONDITION if a site has no ladder: it was put in force before there
// were any, and nobody would be told of anything. Pure.
[[nodiscard]] absl::Status CheckLadders(const v1::Configuration& configuration);

// FAILED_PRECONDITION if there is a time within the 90 days from `now` when
// nobody of a role with a rota is on duty, and the rota does not say why. Pure.
[[nodiscard]] absl::Status CheckStaffed(const Setup& setup, absl::Time now);

// FAILED_PRECONDITION while a site's words for immediate danger are still the
// placeholder: real people must not be sent to it. Pure.
[[nodiscard]] absl::Status CheckReadyForPeople(
    const v1::Configuration& configuration);

}  // namespace turnstone
