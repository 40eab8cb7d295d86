// Numbers taken from a reliability instead of being written out.
#pragma once

#include <absl/status/status.h>

#include "rules/check/known.h"
#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Fills in the `value` of every setting (or override) that says
// `reliable_change`, so that nobody who reads the number needs to know where it
// comes from. Where it cannot be told, reports why and leaves the value out.
void TakeReliableChanges(v1::RuleSet& rules, const Place& file,
                         const Known& known);
void TakeReliableChanges(v1::SiteConfig& site, const Place& file,
                         const Known& known);

// NOT_FOUND, saying which folder to add, if a number of `configuration` could
// not be filled in because the files were not complete. Pure.
[[nodiscard]] absl::Status NumbersAreKnown(
    const v1::Configuration& configuration);

}  // namespace turnstone
