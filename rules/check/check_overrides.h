// A site's own numbers, in place of its rule set's.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// `rules`: the site's rule set; null if it is not known here, when only the
// overrides themselves are checked.
void CheckOverrides(const v1::SiteConfig& site, const Place& file,
                    const v1::RuleSet* rules);

}  // namespace turnstone
