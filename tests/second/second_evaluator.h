// A second answer to what must be raised: slow, direct, and written without a
// look at the engine (see world.h). Wherever the two differ, one of them has
// misread the contract.
#pragma once

#include <string>
#include <tuple>
#include <vector>

#include "tests/second/world.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::second {

struct Verdict {
  std::string rule;
  std::string source;  // of the event the rule was asked about
  std::string id;
  absl::Time due;
  v1::Truth truth = v1::TRUTH_UNSPECIFIED;
  v1::Priority priority = v1::PRIORITY_UNSPECIFIED;

  friend bool operator==(const Verdict&, const Verdict&) = default;
  friend bool operator<(const Verdict& a, const Verdict& b) {
    return a.Key() < b.Key();
  }

 private:
  using Keys =
      std::tuple<const std::string&, const std::string&, const std::string&,
                 absl::Time, v1::Truth, v1::Priority>;
  [[nodiscard]] Keys Key() const {
    return {rule, source, id, due, truth, priority};
  }
};

// Everything that must have been raised by `now`, in order. `recorded`: one
// participant's events, in the order of recording, all of them valid.
[[nodiscard]] std::vector<Verdict> MustBeRaised(
    const World& world, const std::vector<v1::Event>& recorded, absl::Time now);

}  // namespace turnstone::second
