// What the output is shown in, if it is a terminal.
#pragma once

#include <cstddef>

namespace turnstone::cli {

struct Window {
  size_t columns = 80;
  size_t rows = 24;
  // Whether bold and reverse may be used.
  bool styled = true;
};

}  // namespace turnstone::cli
