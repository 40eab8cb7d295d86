// What a candidate would have changed, for people and for programs.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "rules/replay/difference.h"
#include "rules/replay/replay.h"

namespace turnstone::cli {

struct ReplayAbout {
  std::string site;
  absl::TimeZone zone;
  ReplayWindow window;
  // List everything that changes, however long it grows.
  bool all = false;
};

// A warning first where safety reasons would be lost; then a sentence, and only
// what changes: by rule, by participant, and what it asks of people by week.
[[nodiscard]] std::string ReplayPage(const Difference& difference,
                                     const ReplayAbout& about);

// One line of figures, then one for each reason that changes.
[[nodiscard]] std::string ReplayJson(const Difference& difference,
                                     const ReplayAbout& about);

}  // namespace turnstone::cli
