// What alerts asked of people, in lines.
#pragma once

#include <string>
#include <vector>

#include "turnstone/v1/burden.pb.h"

namespace turnstone::scenarios {

[[nodiscard]] std::vector<std::string> BurdenLines(const v1::Burden& burden);

}  // namespace turnstone::scenarios
