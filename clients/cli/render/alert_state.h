// What an alert is now, who has it, and what comes next.
#pragma once

#include <absl/time/time.h>

#include <optional>
#include <string>
#include <vector>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {

// Not yet completed, cancelled or entered in error.
[[nodiscard]] bool IsOpen(const v1::Alert& alert);

// Only missing information, no answer of true, stands behind the alert.
[[nodiscard]] bool IsUnknown(const v1::Alert& alert);

// What a reader must know besides status and holder, in plain words:
// "must be closed by a person", ...
[[nodiscard]] std::vector<std::string> Marks(const v1::Alert& alert);

// The name of who has it; "nobody" while it is open and nobody does; empty once
// it has ended.
[[nodiscard]] std::string HolderName(const v1::Alert& alert);

// When the next rung is reached or the hold ends; none if it has ended.
[[nodiscard]] std::optional<absl::Time> NextAt(const v1::Alert& alert);

// What comes then: "whoever is on duty (on-call-lead) is told", "the hold
// ends"; empty if it has ended.
[[nodiscard]] std::string NextText(const v1::Alert& alert);

// "to be received by Wed 3 Mar 2027 14:25 GMT, or whoever is on duty
// (on-call-lead) is told"; empty if it has ended.
[[nodiscard]] std::string DeadlineText(const v1::Alert& alert);

// "A-17 is received, with r.sorrel. To be closed by ...": a line, or two.
[[nodiscard]] std::string Standing(const v1::Alert& alert);

// What may be typed now, commonest first.
[[nodiscard]] std::vector<std::string> NextCommands(const v1::Alert& alert);

}  // namespace turnstone::cli
