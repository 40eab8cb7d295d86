// The daily message that the service is working.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports what is wrong with the site's `sign_of_life`, if it has one.
void CheckSignOfLife(const v1::SiteConfig& site, const Place& file);

}  // namespace turnstone
