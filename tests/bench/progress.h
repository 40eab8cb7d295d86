// What the bench is at, on a terminal.
#pragma once

#include <string>

namespace turnstone {

// Says nothing where nobody watches. Empty: done.
void Progress(const std::string& what);

}  // namespace turnstone
