// Runs the scenarios with trouble at every operation (--nth), or simulated
// lives of the whole service.
#include <absl/time/clock.h>
#include <unistd.h>

#include <CLI/CLI.hpp>
#include <optional>

#include "tests/faults/nth_run.h"
#include "tests/faults/sim_run.h"

// NOLINTNEXTLINE(bugprone-exception-escape): because a bad call may end it.
int main(int argc, char** argv) {
  CLI::App app("What happens when the disk, the power or the network fails");
  turnstone::faults::NthOptions nth;
  turnstone::faults::SimRunOptions run;
  std::optional<uint64_t> seed;
  std::optional<uint64_t> from;
  bool go_nth = false;
  bool all = false;
  app.add_option("--seed", seed, "one life, or with --nth: where to begin");
  app.add_option("--from", from, "first of many seeds; else a new one");
  app.add_option("--seconds", run.seconds, "for how long to try seeds");
  app.add_option("--seeds", run.seeds_min, "how many seeds at least");
  app.add_option("--steps", run.life.steps, "steps of a life");
  app.add_flag("--disk-may-fill", run.life.disk_may_fill);
  app.add_flag("--verbose", run.life.verbose, "tells what happens");
  app.add_flag("--nth", go_nth, "every scenario, with trouble at operations");
  app.add_option("--lives", nth.lives, "--nth: about so many");
  app.add_flag("--all", all, "--nth: every operation and every trouble");
  app.add_option("--operation", nth.operation, "--nth: only this one");
  app.add_option("--only", nth.only, "--nth: scenarios with this in the name");
  CLI11_PARSE(app, argc, argv);
  if (go_nth) {
    nth.seed = seed.value_or(nth.seed);
    if (all) nth.lives = 0;
    return turnstone::faults::RunNth(nth) ? 0 : 1;
  }
  if (seed) {
    run.life.seed = *seed;
    return turnstone::faults::RunOne(run.life) ? 0 : 1;
  }
  // Seeds that nobody has tried before.
  run.from = from.value_or(
      static_cast<uint64_t>(absl::ToUnixSeconds(absl::Now())) * 100000 +
      static_cast<uint64_t>(getpid()) % 100000);
  return turnstone::faults::RunSimulations(run) ? 0 : 1;
}
