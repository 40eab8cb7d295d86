// The single reasons of a replay, in words.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "rules/replay/difference.h"

namespace turnstone::cli {

struct ReplayRow {
  std::string participant;
  // When it would be raised; where that changes, when it was raised before.
  absl::Time asked;
  std::string what;  // "new", "no longer", "otherwise"
  std::string text;  // "missed-visits (outreach, urgent): 2 visits missed ..."
};

// In order of participant and time.
[[nodiscard]] std::vector<ReplayRow> RowsOf(const Difference& difference,
                                            absl::TimeZone zone);

// "missed-visits (outreach, urgent): 2 visits missed in a row."
[[nodiscard]] std::string VerdictText(const Verdict& verdict);

}  // namespace turnstone::cli
