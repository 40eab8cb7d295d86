// A programme of invented people, in memory: what the bench replays.
#pragma once

#include <absl/time/time.h>

#include <vector>

#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

struct InventedEvent {
  absl::Time recorded;
  v1::Event event;
};

// How fast the programme goes.
struct Pace {
  absl::Duration day = absl::Hours(24);
  // They begin one after another over so many days.
  int begin_within = 730;
};
// Every course fits into one working day, so that nothing falls due meanwhile.
[[nodiscard]] Pace WithinADay();

// About 36 events each: enrolment, then eight visits with plan, outcome,
// questionnaire and practice report, and a discharge. From Monday, 4 January
// 2027, 9:00 on. In order of acceptance; the same for the same arguments.
[[nodiscard]] std::vector<InventedEvent> InventEvents(int people,
                                                      const Pace& pace = {});

// What we ship with the first ten rules of its rule set.
[[nodiscard]] v1::Configuration TenRules();

// The same with referral from 18 points on instead of 20.
[[nodiscard]] v1::Configuration Candidate(v1::Configuration configuration);

}  // namespace turnstone
