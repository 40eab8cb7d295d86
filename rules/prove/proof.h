// What became of a property.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "turnstone/v1/event.pb.h"

namespace turnstone {

enum class ProofResult {
  // In every case.
  kHolds,
  // There is a case in which it does not.
  kFails,
  // Not every case could be gone through.
  kNotDecided,
};

// A case in which what must be so is not.
struct Counterexample {
  // In the order in which they happen; each is accepted by the service of the
  // site. Empty where no event leads to the case.
  std::vector<v1::Event> events;
  // What happens, a line each.
  std::vector<std::string> words;
  // "an alert of kind safety at priority asap or higher".
  std::string expected;
  // "nothing is raised at once".
  std::string found;
};

struct Proof {
  // Of the property set or, for a division, of the rule set.
  std::string set;
  std::string id;
  std::string title;
  ProofResult result = ProofResult::kNotDecided;
  // Why it could not be decided; empty otherwise.
  std::string why;
  // Where it fails: the smallest one. Where it could not be decided: a case
  // that could not be told.
  std::optional<Counterexample> counterexample;

  // How many cases the result is about; the largest number stands for itself or
  // more.
  uint64_t cases = 0;
  // How many of them were put to the engine, each for all that no rule can tell
  // from it.
  uint64_t evaluations = 0;
  // How many kinds of case the rules were found to tell apart.
  uint64_t states = 0;
};

}  // namespace turnstone
