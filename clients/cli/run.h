// The program without its process: arguments in, exit code out.
#pragma once

#include <string>
#include <vector>

#include "clients/cli/command.h"

namespace turnstone::cli {

// `arguments` without the program's name. Returns an ExitCode as a number.
[[nodiscard]] int Run(const std::vector<std::string>& arguments,
                      const Console& console);

}  // namespace turnstone::cli
