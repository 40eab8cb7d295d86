#include "tests/faults/simulation.h"

#include "tests/faults/life.h"

namespace turnstone::faults {
namespace {

constexpr int kHealingSteps = 12;

}  // namespace

SimulationReport Simulate(const SimulationOptions& options,
                          const std::string& folder) {
  Life life(options, folder);
  for (int i = 0; i < options.steps && life.goes_on(); ++i) life.Step();
  // Nothing goes wrong any more: now everything owed must get done.
  life.Heal();
  for (int i = 0; i < kHealingSteps && life.goes_on(); ++i) life.QuietStep();
  life.End();
  return life.report();
}

}  // namespace turnstone::faults
