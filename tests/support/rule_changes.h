// What we ship, with one thing changed.
#pragma once

#include <string>

#include "turnstone/v1/site.pb.h"

namespace turnstone {

// The site has its own number.
[[nodiscard]] v1::Configuration WithOverride(const std::string& setting,
                                             int value);
// The rule is gone.
[[nodiscard]] v1::Configuration WithoutRule(const std::string& id);

}  // namespace turnstone
