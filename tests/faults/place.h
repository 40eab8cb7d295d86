// Where the real part of a simulated store lies.
#pragma once

#include <string>

namespace turnstone::faults {

// A folder of this process's own, in memory where the machine has such a place.
[[nodiscard]] std::string OwnFolder(const std::string& name);

}  // namespace turnstone::faults
