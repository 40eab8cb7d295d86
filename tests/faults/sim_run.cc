#include "tests/faults/sim_run.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_format.h>

#include <chrono>
#include <iostream>

#include "tests/faults/place.h"

namespace turnstone::faults {
namespace {

std::string InWords(const SimulationReport& all) {
  return absl::StrFormat(
      "%.0f simulated hours, %d crashes (%d power cuts), %d faults armed, %d "
      "disk operations, %d events, %d alerts, %d pieces of work, %d sendings",
      all.hours, all.crashes, all.power_cuts, all.faults, all.operations,
      all.events, all.alerts, all.answered, all.sendings);
}

void Add(const SimulationReport& one, SimulationReport& all) {
  all.hours += one.hours;
  all.crashes += one.crashes;
  all.power_cuts += one.power_cuts;
  all.faults += one.faults;
  all.operations += one.operations;
  all.events += one.events;
  all.alerts += one.alerts;
  all.sendings += one.sendings;
  all.answered += one.answered;
}

bool Tell(const SimulationOptions& life, const SimulationReport& report) {
  if (report.broke.empty()) return true;
  std::cout << "seed " << life.seed << ": " << report.broke
            << "\nTo see it again:\n  tests/faults/run --seed " << life.seed
            << " --steps " << life.steps
            << (life.disk_may_fill ? " --disk-may-fill" : "") << " --verbose\n";
  return false;
}

}  // namespace

SimulationReport SimulateTwice(const SimulationOptions& life) {
  const std::string folder = OwnFolder("life");
  SimulationReport report = Simulate(life, folder);
  if (!report.broke.empty()) return report;
  SimulationOptions quiet = life;
  quiet.verbose = false;
  const SimulationReport again = Simulate(quiet, folder);
  if (again.digest != report.digest || !again.broke.empty()) {
    report.broke = absl::StrCat(
        "BrokeDeterministic: the same life again ended as ", again.digest,
        " instead of ", report.digest, " ", again.broke);
  }
  return report;
}

bool RunOne(const SimulationOptions& life) {
  const SimulationReport report = SimulateTwice(life);
  std::cout << "seed " << life.seed << ": " << InWords(report) << "; digest "
            << report.digest << "\n";
  return Tell(life, report);
}

bool RunSimulations(const SimRunOptions& options) {
  using Clock = std::chrono::steady_clock;
  const auto until = Clock::now() + std::chrono::seconds(options.seconds);
  SimulationReport all;
  SimulationOptions life = options.life;
  int seeds = 0;
  std::cout << "seeds from " << options.from << " on\n" << std::flush;
  while (seeds < options.seeds_min || Clock::now() < until) {
    life.seed = options.from + static_cast<uint64_t>(seeds++);
    const SimulationReport report = SimulateTwice(life);
    Add(report, all);
    if (!Tell(life, report)) return false;
    if (seeds % 10 == 0) std::cout << seeds << " seeds\n" << std::flush;
  }
  std::cout << seeds << " seeds, each twice: " << InWords(all)
            << "; nothing broke\n";
  return true;
}

}  // namespace turnstone::faults
