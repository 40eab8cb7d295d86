// What the world does to a simulated service: time, the disk, the channels.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "tests/faults/life.h"

namespace turnstone::faults {

void Life::Interfere() {
  BreakDisk();
  FillDisk();
  SetWall();
  TouchChannels();
}

void Life::BreakDisk() {
  if (Happens(swarm_.arms_death)) {
    disk_.StopAt(random_.Between(1, 500));
    Say("the process is to die");
  }
  if (!Happens(swarm_.arms_failure)) return;
  SimDisk::Fault fault;
  fault.nth = random_.Between(1, 500);
  if (Happens(300)) {
    fault.only = SimDisk::Op::kSync;
    fault.nth = random_.Between(1, 5);
  }
  fault.for_ever = Happens(swarm_.fails_for_ever);
  disk_.Fail(fault);
  ++report_.faults;
  Say("the disk is to fail");
}

void Life::FillDisk() {
  if (!Happens(full_ ? 300 : swarm_.fills_disk)) return;
  full_ = !full_;
  disk_.SetCapacity(
      full_ ? std::optional(disk_.used() +
                            static_cast<size_t>(random_.Below(100000)))
            : std::nullopt);
  Say(full_ ? "the disk is nearly full" : "the disk has room");
}

void Life::SetWall() {
  if (Happens(swarm_.sets_wall_back)) {
    clock_.SetWall(-absl::Minutes(random_.Between(1, int64_t{5} * 60)));
    Say("the wall's clock was set back");
  }
  if (Happens(swarm_.sets_wall_forward)) {
    clock_.SetWall(absl::Minutes(random_.Between(1, int64_t{5} * 60)));
    Say("the wall's clock was set forward");
  }
}

void Life::TouchChannels() {
  const bool breaks = Happens(swarm_.breaks_channel);
  if (!breaks && !Happens(swarm_.mends_channel)) return;
  const auto& sites = files_.site();
  const v1::SiteConfig& site =
      sites[static_cast<int>(random_.Below(sites.size()))];
  const v1::Channel& channel =
      site.channel(static_cast<int>(random_.Below(site.channel_size())));
  const auto is =
      breaks ? static_cast<Post::Is>(random_.Between(1, 4)) : Post::Is::kUp;
  post_.Set({site.id(), channel.id()}, is);
  Say(absl::StrCat("channel ", channel.id(), " of ", site.id(), ": ",
                   static_cast<int>(is)));
}

absl::Duration Life::AnyTime() {
  if (Happens(swarm_.is_days)) return absl::Hours(random_.Between(12, 72));
  if (Happens(swarm_.is_long)) return absl::Minutes(random_.Between(10, 480));
  return absl::Seconds(random_.Between(1, 600));
}

absl::Duration Life::NextWait(absl::Duration most) {
  const absl::StatusOr<absl::Time> due = service_.core().NextDue();
  const absl::StatusOr<absl::Time> sending = service_.core().NextSending();
  if (!due.ok() || !sending.ok()) return absl::ZeroDuration();
  const absl::Time now = service_.core().Now();
  if (*due <= now) {
    if (full_) return std::min(most, absl::Minutes(5));
    findings_.Add("BrokeOnTime", "something was due at ",
                  absl::FormatTime(*due), " and is not done");
    return most;
  }
  const absl::Duration until_sending =
      *sending > now ? *sending - now : absl::InfiniteDuration();
  return std::min({most, *due - now, courier_.NextResult(), until_sending});
}

void Life::Pass(absl::Duration span) {
  while (goes_on() && (span > absl::ZeroDuration() || !service_.runs())) {
    const absl::Duration before = clock_.Elapsed();
    if (service_.runs()) {
      clock_.Pass(NextWait(span));
      Settle();
    } else {
      Revive();
    }
    span -= clock_.Elapsed() - before;
  }
}

void Life::Settle() {
  if (!service_.runs()) return;
  auditor_.TimeIs(clock_);
  service_.round().AskWhatIsDue();
  courier_.Deliver();
  if (service_.runs() && !full_) auditor_.Look(service_.core());
}

}  // namespace turnstone::faults
