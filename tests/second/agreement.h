// A fixture for holding the two evaluators against each other.
#pragma once

#include <gtest/gtest.h>

#include <set>
#include <string>
#include <vector>

#include "tests/second/agree.h"
#include "tests/second/rule_sets.h"

namespace turnstone::second {

class Agreement : public testing::Test {
 protected:
  // Fails, with the fewest events that do, where the two differ on `history`;
  // `step_by_step`: also where they differ on the way.
  void Hold(const std::vector<Recorded>& history, bool step_by_step,
            const std::string& name);
  // In the order in which they happened, each recorded at once.
  void HoldEvents(const std::vector<v1::Event>& events);

  const v1::Configuration configuration_ = BothRuleSets();
  const turnstone::Setup setup_{configuration_, "both"};
  const Pair shipped_{configuration_, setup_, kShippedSite};
  const Pair odd_{configuration_, setup_, kOddSite};
};

// Past every wait there is.
[[nodiscard]] inline absl::Time LongAfter(
    const std::vector<Recorded>& history) {
  return history.back().at + absl::Hours(24 * 400);
}

}  // namespace turnstone::second
