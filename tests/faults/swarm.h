// What a simulated life is like. Each seed leaves some kinds of things out, so
// that what happens seldom beside others happens often by itself.
#pragma once

#include <string>

#include "tests/faults/random.h"

namespace turnstone::faults {

// Rates are in times of 1000; 0: it does not happen.
struct Swarm {
  int participants = 4;      // at each site
  size_t in_memory = 20000;  // of them, in the service
  // Of every step:
  int submits = 600;
  int works = 500;
  int hands_over = 60;
  int breaks_channel = 60;
  int mends_channel = 100;
  int sets_wall_back = 20;
  int sets_wall_forward = 20;
  int reloads = 20;
  int shadows = 20;
  int stops = 20;  // somebody stops the service and starts it again
  int arms_death = 60;
  int arms_failure = 60;
  int fills_disk = 0;
  // Of every batch:
  int is_large = 100;
  // Of every event:
  int is_wrong = 40;
  int is_correction = 120;
  int is_late = 200;
  // Of every answer:
  int answer_lost = 100;
  int sent_again = 100;
  int sent_with_other_content = 50;
  // Of every time the process dies:
  int power_goes_too = 500;
  int stays_down = 150;  // for hours
  // Of every failure:
  int fails_for_ever = 300;
  // Of every step's time:
  int is_long = 200;  // hours
  int is_days = 20;

  [[nodiscard]] std::string ToString() const;
};

// `disk_may_fill`: whether fills_disk may be on.
[[nodiscard]] Swarm DrawSwarm(Random& random, bool disk_may_fill);

}  // namespace turnstone::faults
