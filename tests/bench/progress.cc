#include "tests/bench/progress.h"

#include <unistd.h>

#include <cstdio>

namespace turnstone {

void Progress(const std::string& what) {
  static const bool watched = isatty(STDERR_FILENO) != 0;
  if (watched) std::fprintf(stderr, "\r\033[K%s", what.c_str());
}

}  // namespace turnstone
