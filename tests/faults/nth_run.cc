#include "tests/faults/nth_run.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <iterator>
#include <vector>

#include "tests/faults/nth.h"
#include "tests/faults/place.h"

namespace turnstone::faults {
namespace {

constexpr int64_t kKinds = std::ssize(kTroubles);

const char* InWords(Trouble trouble) {
  switch (trouble) {
    case Trouble::kFailsOnce:
      return "fails once";
    case Trouble::kFailsForEver:
      return "fails for ever";
    case Trouble::kProcessDies:
      return "kills the process";
    case Trouble::kPowerGoes:
      return "cuts the power";
  }
  return "";
}

// Lives through number `first` of all pairs of operation and trouble, and every
// `stride`-th after it.
bool Go(const NthTrouble& scenario, const std::string& name, uint64_t seed,
        int64_t first, int64_t stride, int64_t& lives) {
  const int64_t pairs = scenario.course().operations * kKinds;
  for (int64_t i = first; i < pairs; i += stride) {
    const int64_t nth = i / kKinds + 1;
    const Trouble trouble = kTroubles[i % kKinds];
    ++lives;
    const std::string broke = scenario.Live(trouble, nth);
    if (broke.empty()) continue;
    std::cout << name << ": operation " << nth << " " << InWords(trouble)
              << ": " << broke
              << "\nTo see it again:\n  tests/faults/run --nth "
              << "--only " << name << " --operation " << nth << " --seed "
              << seed << "\n";
    return false;
  }
  return true;
}

bool OneOperation(const std::vector<NthTrouble>& scenarios,
                  const NthOptions& options) {
  bool well = true;
  for (const NthTrouble& scenario : scenarios) {
    for (const Trouble trouble : kTroubles) {
      const std::string broke = scenario.Live(trouble, options.operation);
      std::cout << "it " << InWords(trouble) << ": "
                << (broke.empty() ? "nothing broke" : broke) << "\n";
      well = well && broke.empty();
    }
  }
  return well;
}

}  // namespace

bool RunNth(const NthOptions& options) {
  std::vector<NthTrouble> scenarios;
  std::vector<std::string> names;
  int64_t pairs = 0;
  for (const std::string& path : ScenarioPaths()) {
    const std::string name = std::filesystem::path(path).stem();
    if (!absl::StrContains(name, options.only)) continue;
    scenarios.emplace_back(path, OwnFolder("nth"), options.seed);
    names.push_back(name);
    const std::string wrong = scenarios.back().LiveUndisturbed();
    if (!wrong.empty()) {
      std::cout << name << ": without any trouble: " << wrong << "\n";
      return false;
    }
    pairs += scenarios.back().course().operations * kKinds;
  }
  if (options.operation > 0) return OneOperation(scenarios, options);
  const int64_t stride =
      options.lives == 0 ? 1 : std::max<int64_t>(1, pairs / options.lives);
  int64_t next =
      static_cast<int64_t>(options.seed % static_cast<uint64_t>(stride));
  std::cout << scenarios.size() << " scenarios, " << pairs / kKinds
            << " operations, each with " << kKinds << " troubles; every "
            << stride << ". of them, from " << next << " on (seed "
            << options.seed << ")\n";
  int64_t lives = 0;
  bool well = true;
  for (size_t i = 0; i < scenarios.size(); ++i) {
    well =
        Go(scenarios[i], names[i], options.seed, next, stride, lives) && well;
    const int64_t there = scenarios[i].course().operations * kKinds;
    next =
        next < there ? (next - there % stride + stride) % stride : next - there;
    std::cout << absl::StrFormat("%6d lives, %s\n", lives, names[i])
              << std::flush;
  }
  std::cout << lives << " lives, " << (well ? "nothing broke" : "broken")
            << "\n";
  return well;
}

}  // namespace turnstone::faults
