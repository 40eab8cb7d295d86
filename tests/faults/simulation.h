// The life of a whole service in one thread, from a seed.
#pragma once

#include <cstdint>
#include <string>

namespace turnstone::faults {

struct SimulationOptions {
  uint64_t seed = 1;
  int steps = 60;
  // Tells what happens as it happens.
  bool verbose = false;
  // The disk may be full at times. The service must then refuse new events,
  // and go on with everything else.
  bool disk_may_fill = false;
};

struct SimulationReport {
  // Which guarantee broke, and how; empty: none.
  std::string broke;
  // Of everything durable at the end.
  std::string digest;
  double hours = 0;  // simulated
  int64_t crashes = 0;
  int64_t power_cuts = 0;
  int64_t faults = 0;
  int64_t operations = 0;
  int64_t events = 0;
  int64_t alerts = 0;
  int64_t sendings = 0;
  int64_t answered = 0;  // work that people did
};

// `folder` is emptied, and removed at the end.
[[nodiscard]] SimulationReport Simulate(const SimulationOptions& options,
                                        const std::string& folder);

}  // namespace turnstone::faults
