#include "service/core/advance.h"

#include <algorithm>

#include "rules/measure/proto_time.h"

namespace turnstone {

v1::Clock ClockOf(Core& core, bool simulated) {
  v1::Clock clock;
  *clock.mutable_now() = ToProto(core.Now());
  clock.set_simulated(simulated);
  return clock;
}

absl::StatusOr<v1::Clock> Advance(Core& core, SimulatedClock* clock,
                                  const google::protobuf::Duration& by,
                                  const v1::Actor& caller) {
  if (clock == nullptr) {
    return absl::FailedPreconditionError(
        "the service runs on real time, which nobody moves; start it with "
        "--clock simulated for demonstrations and tests");
  }
  const absl::Duration step =
      absl::Seconds(by.seconds()) + absl::Nanoseconds(by.nanos());
  if (step <= absl::ZeroDuration() || step > absl::Hours(400 * 24)) {
    return absl::InvalidArgumentError(
        "by: must be more than 0 and at most 400 days");
  }
  const absl::Time target = core.Now() + step;
  while (true) {
    const absl::StatusOr<absl::Time> next = core.NextDue();
    if (!next.ok()) return next.status();
    clock->MoveTo(std::min(*next, target));
    const absl::StatusOr<Core::DueReport> asked = core.AskAllDue();
    if (!asked.ok()) return asked.status();
    if (*next >= target) break;
  }
  // On record, so that a restart goes on from here.
  core.StageClockMoved(caller);
  if (absl::Status status = core.Commit(); !status.ok()) return status;
  return ClockOf(core, true);
}

}  // namespace turnstone
