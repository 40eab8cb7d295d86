// The whole story of one alert.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "turnstone/v1/alert.pb.h"

namespace turnstone::cli {

// What it is and why on top, then what the site says to do, then what was
// known, which rule spoke, and what happened since. Times in the site's zone.
[[nodiscard]] std::string AlertPage(const v1::Alert& alert, absl::Time now);

// Each condition on a line: "true     what it saw", parts indented below it.
// Below those by which the whole came out as it did stands `mark` in brackets,
// if there is one: "this kept it silent".
[[nodiscard]] std::string TraceTree(const v1::ConditionTrace& trace,
                                    const std::string& mark = "");

}  // namespace turnstone::cli
