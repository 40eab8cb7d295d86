// How a simulated service dies, and comes back.
#include <absl/strings/str_cat.h>

#include "tests/faults/life.h"

namespace turnstone::faults {

// It died, or it ended of itself because its store had failed.
void Life::Revive() {
  ++report_.crashes;
  courier_.Forget();
  service_.End();
  if (Happens(swarm_.power_goes_too)) {
    disk_.CutPower();
    ++report_.power_cuts;
    Say("the power goes");
  }
  disk_.Start();
  clock_.Pass(Happens(swarm_.stays_down)
                  ? absl::Minutes(random_.Between(60, int64_t{30} * 60))
                  : absl::Seconds(random_.Between(1, 60)));
  StartAgain();
}

void Life::StopAndStart() {
  Say("somebody stops it");
  courier_.Forget();
  service_.End();
  if (Happens(swarm_.power_goes_too)) disk_.CutPower();
  disk_.Start();
  clock_.Pass(absl::Seconds(random_.Between(1, 600)));
  StartAgain();
}

void Life::StartAgain() {
  while (goes_on()) {
    if (swarm_.arms_death > 0 && Happens(150)) {
      disk_.StopAt(random_.Between(1, 120));
    } else if (swarm_.arms_failure > 0 && Happens(150)) {
      disk_.Fail({.nth = random_.Between(1, 120)});
    }
    const absl::Status started = service_.Start();
    if (started.ok() && service_.runs()) break;
    const bool for_cause = disk_.failed() || disk_.stopped() || full_;
    service_.End();
    if (!for_cause) {
      return findings_.Add("BrokeDurable",
                           "it does not start again: ", started.ToString());
    }
    ++report_.crashes;
    Say(absl::StrCat("it cannot start: ", started.ToString()));
    if (Happens(swarm_.power_goes_too)) disk_.CutPower();
    disk_.Start();
    if (full_) FillDisk();
    clock_.Pass(absl::Seconds(10));
  }
  if (!goes_on()) return;
  Say("it runs");
  auditor_.Started(service_.core(), clock_);
  Settle();
}

}  // namespace turnstone::faults
