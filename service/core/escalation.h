// How an alert climbs its ladder. Everything is reckoned anew from what stands
// in the alert and from the site's ladder in force, so that nothing is armed
// and nothing can be lost. Pure.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/duty/rota.h"
#include "rules/engine/setup.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/delivery.pb.h"

namespace turnstone {

// Who there is to be told.
struct Around {
  const Site& site;
  const std::vector<Swap>& swaps;
  // Whom the participant was last given to; may be empty.
  std::string clinician;
};

// People were told of an alert.
struct Telling {
  std::string alert_id;
  // "rung 2 of cannot-wait: nobody has received it; told t.linnet".
  std::string text;
  std::vector<v1::OwedMessage> messages;
};

// From `begin` on the alert climbs from the first rung, or waits for its hold
// to end. REQUIRES: it is open; with UNTIL_HOLD_ENDS, `hold` is set.
void BeginClimb(v1::Climbing climbing, absl::Time begin, const Site& site,
                v1::Alert& alert);

// Takes the open alert over every rung that is due by `now`, and out of a hold
// that is over; sets the next deadline. Rungs passed while the service was down
// are all reached now, each with its lateness, but the last is not repeated for
// every time it was missed. BrokeOnTime, BrokeSilent.
[[nodiscard]] std::vector<Telling> ClimbTo(absl::Time now, const Around& around,
                                           v1::Alert& alert);

// The latest rung could reach nobody: the next one is reached at once. Nothing
// happens on the last rung, which repeats by itself.
[[nodiscard]] std::vector<Telling> ClimbAtOnce(const std::string& why,
                                               absl::Time now,
                                               const Around& around,
                                               v1::Alert& alert);

// Tells `people` apart from the ladder, which goes on as it was.
[[nodiscard]] Telling TellApart(const std::vector<std::string>& people,
                                const std::string& why, absl::Time now,
                                const Around& around, v1::Alert& alert);

}  // namespace turnstone
