// Who is on duty when.
#pragma once

#include "rules/check/place.h"
#include "rules/check/staff.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// Reports everything wrong with the rotas of the site at `file`. Pure.
void CheckRotas(const v1::SiteConfig& site, const Place& file,
                const Staff& staff);

}  // namespace turnstone
