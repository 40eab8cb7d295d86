#include "tests/fuzz/promise.h"

#include <cstdio>
#include <cstdlib>

namespace turnstone::fuzz {

void Promise(bool kept, const std::string& what) {
  if (kept) return;
  std::fprintf(stderr, "broken: %s\n", what.c_str());
  std::abort();
}

}  // namespace turnstone::fuzz
