// Holding the two evaluators against each other.
#pragma once

#include <functional>
#include <set>
#include <string>
#include <vector>

#include "tests/second/engine_side.h"

namespace turnstone::second {

// Both ways of asking the same site. Immutable.
class Pair {
 public:
  Pair(const v1::Configuration& configuration, const Setup& setup,
       const std::string& site);

  // Where they differ when everything is recorded and the clock shows `now`,
  // a line for each verdict only one of them gives; empty if nowhere.
  [[nodiscard]] std::string Differ(const std::vector<Recorded>& history,
                                   absl::Time now) const;
  // The same, asked after every event as it is recorded and again at `now`.
  [[nodiscard]] std::string DifferOnTheWay(const std::vector<Recorded>& history,
                                           absl::Time now) const;

  // Ids of the rules that must raise something, by the second evaluator.
  [[nodiscard]] std::set<std::string> Speak(
      const std::vector<Recorded>& history, absl::Time now) const;
  // Ids of all the site's rules.
  [[nodiscard]] std::set<std::string> Rules() const;

 private:
  const Setup* setup_;
  const Site* site_;
  World world_;
};

// `history` with as many events left out as `fails` still allows.
[[nodiscard]] std::vector<Recorded> Shrunk(
    std::vector<Recorded> history,
    const std::function<bool(const std::vector<Recorded>&)>& fails);

// The events, one after another, for a person to read.
[[nodiscard]] std::string Listed(const std::vector<Recorded>& history);

}  // namespace turnstone::second
