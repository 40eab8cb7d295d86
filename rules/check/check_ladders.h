// Ladders: one for every alert, and none that goes silent.
#pragma once

#include "rules/check/place.h"
#include "rules/check/staff.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports everything wrong with the ladders of the site at `file`. Pure.
void CheckLadders(const v1::SiteConfig& site, const Place& file,
                  const Staff& staff);

// Reports priorities and kinds that no ladder fits, or more than one.
void CheckCover(const v1::SiteConfig& site, const Place& file);

}  // namespace turnstone
