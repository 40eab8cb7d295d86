// libFuzzer's way in. TURNSTONE_FUZZ_TARGET in the environment names the
// target.
#include <cstdlib>

#include "tests/fuzz/promise.h"
#include "tests/fuzz/targets.h"

namespace turnstone::fuzz {
namespace {

const Target& Chosen() {
  const char* name = std::getenv("TURNSTONE_FUZZ_TARGET");
  const std::string wanted = name == nullptr ? "" : name;
  for (const Target& target : Targets()) {
    if (target.name == wanted) return target;
  }
  Promise(false, "TURNSTONE_FUZZ_TARGET is to name one of tests/fuzz/corpus");
  std::abort();
}

}  // namespace
}  // namespace turnstone::fuzz

// NOLINTNEXTLINE(readability-identifier-naming): libFuzzer calls it so.
extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  static const turnstone::fuzz::Target& target = turnstone::fuzz::Chosen();
  return target.run(data, size);
}
