// How long a site keeps what is on record.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports what is wrong with the site's `retention`; without one, everything is
// kept for ever, and nothing is wrong.
void CheckRetention(const v1::SiteConfig& site, const Place& file);

}  // namespace turnstone
