// The service as one process in one thread: its store on a simulated disk, and
// rounds of work as the commit thread does them.
#pragma once

#include <absl/status/status.h>

#include <memory>
#include <string>

#include "service/core/change_hub.h"
#include "service/core/commit_round.h"
#include "service/core/core.h"
#include "tests/faults/sim_clock.h"
#include "tests/faults/sim_disk.h"

namespace turnstone::faults {

class Service {
 public:
  // `files`: what the service finds on its disk as its configuration; read at
  // every start. `in_memory`: as CoreOptions::participants_in_memory_max.
  Service(SimDisk& disk, const SimClock& clock, std::string folder,
          const v1::Configuration& files, size_t in_memory);
  ~Service();

  [[nodiscard]] absl::Status Start();
  // As it ends of itself: everything is closed.
  void End();
  // It runs, and answers.
  [[nodiscard]] bool runs() const {
    return core_ != nullptr && !core_->broken() && !disk_.stopped();
  }
  // REQUIRES: Start returned OK, and End was not called since.
  [[nodiscard]] Core& core() { return *core_; }
  [[nodiscard]] CommitRound& round() { return *round_; }

 private:
  SimDisk& disk_;
  const SimClock& clock_;
  std::string folder_;
  const v1::Configuration& files_;
  const size_t in_memory_;
  ChangeHub hub_;
  std::unique_ptr<Core> core_;
  std::unique_ptr<CommitRound> round_;
};

}  // namespace turnstone::faults
