// Invented facts about invented participants.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "tests/faults/random.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::faults {

// A fact of any kind but a correction, as of `when`; site, participant and
// source are for the caller to set.
[[nodiscard]] v1::Event AnyFact(const std::string& id, absl::Time when,
                                Random& random);

// Mends `mended`: withdraws it, or puts another of its kind in its place.
[[nodiscard]] v1::Event AnyCorrection(const std::string& id, absl::Time when,
                                      const v1::Event& mended, Random& random);

// Makes it one that must be refused.
void Spoil(absl::Time now, Random& random, v1::Event& event);

}  // namespace turnstone::faults
