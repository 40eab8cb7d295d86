// What became of the properties of a site's rules.
#pragma once

#include <string>
#include <vector>

#include "rules/prove/proof.h"

namespace turnstone::cli {

// What text from files these hold is cleaned.
struct SiteProofs {
  // "pebble-bay, rule set home-visits version 2".
  std::string of;
  std::vector<Proof> proofs;
  // How long each took.
  std::vector<double> seconds;
};

// Each property below the other, with its cases; where it fails, the case in
// words and its events as JSON lines, which `turnstone submit` takes.
[[nodiscard]] std::string ProofPage(const std::vector<SiteProofs>& all);

// One JSON object a line with of, set, id, title, result, why, cases,
// evaluations, states, seconds and, where there is one, counterexample.
[[nodiscard]] std::string ProofJson(const SiteProofs& proofs);

// Events of every counterexample, as JSON lines.
[[nodiscard]] std::string CounterexampleLines(
    const std::vector<SiteProofs>& all);

// "9 properties: 9 hold, 0 fail, 0 are not decided; 711,222,333 cases, 45,678
// put to the rules, 0.8 s".
[[nodiscard]] std::string ProofSummary(const std::vector<SiteProofs>& all);

}  // namespace turnstone::cli
