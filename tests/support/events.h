// Events for tests, in few words. Site "pebble-bay", participant "p1" and
// source "urn:test" unless a test says otherwise.
#pragma once

#include <absl/time/time.h>

#include <optional>
#include <string>
#include <vector>

#include "turnstone/v1/event.pb.h"

namespace turnstone {

// "2027-01-04T10:00:00Z".
[[nodiscard]] absl::Time At(const std::string& rfc3339);

// An event without payload.
[[nodiscard]] v1::Event EventAt(const std::string& id, absl::Time when);

// PHQ-9 items 1 to 9 by their LOINC codes; an absent value leaves the item out.
[[nodiscard]] v1::Event Phq9(const std::string& id, absl::Time when,
                             const std::vector<std::optional<int>>& items);
// A complete PHQ-9 with that total and `self_harm` on item 9.
// REQUIRES: self_harm <= total <= 24 + self_harm.
[[nodiscard]] v1::Event Phq9Total(const std::string& id, absl::Time when,
                                  int total, int self_harm = 0);
[[nodiscard]] v1::Event Planned(const std::string& id, absl::Time when,
                                const std::string& visit, absl::Time start);
[[nodiscard]] v1::Event Outcome(const std::string& id, absl::Time when,
                                const std::string& visit,
                                v1::VisitOutcomeKind outcome);
[[nodiscard]] v1::Event Confidence(const std::string& id, absl::Time when,
                                   std::optional<int> percent);
[[nodiscard]] v1::Event Enrolled(const std::string& id, absl::Time when);
[[nodiscard]] v1::Event Discharged(const std::string& id, absl::Time when);
// A correction that withdraws `mended`, or puts `replacement` in its place.
[[nodiscard]] v1::Event Withdrawn(const std::string& id, absl::Time when,
                                  const v1::Event& mended);
[[nodiscard]] v1::Event Replaced(const std::string& id, absl::Time when,
                                 const v1::Event& replacement);

}  // namespace turnstone
