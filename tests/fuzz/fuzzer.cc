// libFuzzer's way in. TURNSTONE_FUZZ_TARGET names one of targets.h.
#include "tests/fuzz/targets.h"

// NOLINTNEXTLINE(readability-identifier-naming): libFuzzer calls it so.
extern "C" int LLVMFuzzerTestOneInput(const uint8_t* data, size_t size) {
  return turnstone::fuzz::TURNSTONE_FUZZ_TARGET(data, size);
}
