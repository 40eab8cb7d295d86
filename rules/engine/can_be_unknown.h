// Which conditions may find that they cannot tell.
#pragma once

#include "turnstone/v1/rule.pb.h"

namespace turnstone {

// False only if the condition is true or false whatever is missing. Pure.
// REQUIRES: the condition passed LoadConfiguration.
[[nodiscard]] bool CanBeUnknown(const v1::Condition& condition);

}  // namespace turnstone
