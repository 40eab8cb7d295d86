// What of a configuration decides: it comes into force only when somebody puts
// it there. The rest (people, rotas, ladders, channels, protocols, calendars)
// is the site's daily business.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/site.pb.h"

namespace turnstone {

// True if both decide alike at every site: the same instruments, rule sets and
// properties, and the same choice of rule set and numbers. Pure.
[[nodiscard]] bool DecideAlike(const v1::Configuration& a,
                               const v1::Configuration& b);

// Sites of `a` at which `b` decides otherwise, by id. Pure.
[[nodiscard]] std::vector<std::string> SitesThatDiffer(
    const v1::Configuration& a, const v1::Configuration& b);

}  // namespace turnstone
