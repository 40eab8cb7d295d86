// The people of a site, and what their roles allow.
#pragma once

#include "rules/check/place.h"
#include "rules/check/staff.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Each reports everything wrong with that part of the site at `file`. Pure.
void CheckRoles(const v1::SiteConfig& site, const Place& file);
void CheckPersons(const v1::SiteConfig& site, const Place& file,
                  const Staff& staff);
// Whether everything that an alert may need, somebody may do.
void CheckRights(const v1::SiteConfig& site, const Place& file,
                 const Staff& staff);

}  // namespace turnstone
