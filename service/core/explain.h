// Why an alert exists, and why a rule says nothing. Pure.
#pragma once

#include <absl/status/statusor.h>
#include <absl/time/time.h>

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "rules/explain/outcome.h"
#include "service/store/store.h"
#include "turnstone/v1/explain.pb.h"

namespace turnstone {

// Index of the rule in site.rules; absent if the site has none of that id.
[[nodiscard]] std::optional<int> FindRule(const std::string& id,
                                          const Site& site);

// What is known through the events. DATA_LOSS if one cannot be read.
[[nodiscard]] absl::StatusOr<History> HistoryOf(
    const std::vector<StoredEvent>& events, const Catalogue& catalogue);

// Digest of the configuration by which reason `index` was raised.
[[nodiscard]] std::string ConfigurationOf(const v1::Alert& alert, int index);

// What every rule said of the event of reason `index` when it was raised
// (BrokeExplained), and what is otherwise now. `events`: all of the
// participant's, by sequence. `then`: the configuration by which it was raised.
// DATA_LOSS if that cannot read what was on record.
// REQUIRES: index < alert.occurrence_size().
[[nodiscard]] absl::StatusOr<v1::AlertExplanation> ExplainReason(
    const v1::Alert& alert, int index, const std::vector<StoredEvent>& events,
    const Setup& then, const Knowledge& now);

// Everything that it takes to say what a rule makes of a participant.
struct RuleAsked {
  std::shared_ptr<const Setup> setup;
  ParticipantKey whom;
  int rule = 0;                     // index into the site's rules
  std::vector<StoredEvent> events;  // by sequence; at least one
  std::vector<v1::Alert> alerts;    // by number
  absl::Time now;
};

// What the rule says of the last event it is asked about, and by what change of
// what is on record it would have raised. May take a second where that is much:
// not for the commit thread. DATA_LOSS if an event cannot be read.
[[nodiscard]] absl::StatusOr<v1::RuleExplanation> ExplainSilence(
    const RuleAsked& asked);

}  // namespace turnstone
