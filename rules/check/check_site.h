// One site: reachable, with a protocol for every alert and numbers that hold
// together.
#pragma once

#include "rules/check/known.h"
#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports everything wrong with the site at `file`. Pure.
void CheckSite(const v1::SiteConfig& site, const Place& file,
               const Known& known);

}  // namespace turnstone
