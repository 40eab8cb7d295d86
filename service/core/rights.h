// Who may do what at a site.
#pragma once

#include <absl/status/status.h>

#include "rules/engine/setup.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/duty.pb.h"

namespace turnstone {

// PERMISSION_DENIED, saying who may, unless the caller's role has the right at
// the site; and if the site knows a person of the caller's name in another
// role. `what` completes "may not ...": "close a latched alert".
[[nodiscard]] absl::Status CheckMay(const v1::Actor& by, v1::Right right,
                                    const std::string& what, const Site& site);

}  // namespace turnstone
