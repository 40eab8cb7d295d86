// A simulated life, step by step.
#pragma once

#include <string>
#include <vector>

#include "tests/faults/auditor.h"
#include "tests/faults/courier.h"
#include "tests/faults/intake.h"
#include "tests/faults/post.h"
#include "tests/faults/random.h"
#include "tests/faults/service.h"
#include "tests/faults/sim_clock.h"
#include "tests/faults/sim_disk.h"
#include "tests/faults/simulation.h"
#include "tests/faults/swarm.h"

namespace turnstone::faults {

class Life {
 public:
  Life(const SimulationOptions& options, const std::string& folder);

  // Anything may happen.
  void Step();
  // Channels, disk and people are well from now on.
  void Heal();
  // People do their work; a day passes.
  void QuietStep();
  // The service ends, and its rows are looked at.
  void End();
  // Nothing broke so far.
  [[nodiscard]] bool goes_on() const { return findings_.first().empty(); }
  [[nodiscard]] SimulationReport report();

 private:
  // life_world.cc: what the world does to it.
  void Interfere();
  void BreakDisk();
  void FillDisk();
  void SetWall();
  void TouchChannels();
  void Pass(absl::Duration span);
  // Until something is to be done; at most `most`.
  [[nodiscard]] absl::Duration NextWait(absl::Duration most);
  // Everything that is due is done, and looked at.
  void Settle();
  [[nodiscard]] absl::Duration AnyTime();

  // life_restart.cc: how it dies and comes back.
  void Revive();
  void StartAgain();
  void StopAndStart();

  // life_people.cc: what clients and people ask of it.
  void Submit(CommitRound::Batch& batch);
  void Work(CommitRound::Batch& batch);
  void WorkOn(const v1::Alert& alert, const v1::WorkAlertRequest& request,
              const v1::Actor& by, CommitRound::Batch& batch);
  void HandOver(CommitRound::Batch& batch);
  void WorkDone(const v1::WorkAlertRequest& request, const v1::Actor& by,
                const v1::Alert& alert);
  void OfferDuty(const v1::SiteConfig& site, CommitRound::Batch& batch);
  void AnswerOffer(const v1::SiteConfig& site, CommitRound::Batch& batch);
  void Reload();
  void TouchShadow();
  void CloseEverything(CommitRound::Batch& batch);

  void Say(const std::string& what);
  // In times of 1000.
  [[nodiscard]] bool Happens(int rate) { return random_.PerMille(rate); }

  const SimulationOptions options_;
  const std::string folder_;
  Random random_;
  Swarm swarm_;
  v1::Configuration files_;
  SimClock clock_;
  SimDisk disk_;
  Service service_;
  Post post_;
  Courier courier_;
  Auditor auditor_;
  Findings& findings_;
  std::vector<Intake> intakes_;
  int notes_ = 0;
  std::string shadow_;  // digest of what is in shadow, as far as is known
  bool full_ = false;   // the disk
  absl::Time began_;
  SimulationReport report_;
};

}  // namespace turnstone::faults
