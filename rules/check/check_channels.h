// How messages leave the service.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports everything wrong with the channels of the site at `file`. Pure.
void CheckChannels(const v1::SiteConfig& site, const Place& file);

}  // namespace turnstone
