// Who may do what at a site.
#pragma once

#include <absl/status/status.h>

#include "rules/engine/setup.h"
#include "service/core/caller.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/duty.pb.h"

namespace turnstone {

// PERMISSION_DENIED, saying who may, unless the caller is one of the site's
// people, in the role the site knows them in, and that role has the right.
// `what` completes "may not ...": "close a latched alert".
[[nodiscard]] absl::Status CheckMay(const v1::Actor& by, v1::Right right,
                                    const std::string& what, const Site& site);

// As above, for what is of several sites at once: the caller must be of those
// whom this site knows, too. The same name and role elsewhere is not enough.
[[nodiscard]] absl::Status CheckMay(const Caller& caller, v1::Right right,
                                    const std::string& what, const Site& site);

}  // namespace turnstone
