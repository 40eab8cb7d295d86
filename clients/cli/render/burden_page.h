// What alerts asked of people over a time, on one page.
#pragma once

#include <string>

#include "turnstone/v1/burden.pb.h"

namespace turnstone::cli {

// How many, how pressing, how long, who and what; then the same figures beside
// what is published, and how far that can be carried over. Times in the site's
// zone.
[[nodiscard]] std::string BurdenPage(const v1::Burden& burden);

// The part that stands beside published figures, with their sources.
[[nodiscard]] std::string BesideWhatIsPublished(const v1::Burden& burden);

// "12 of 48 (25 %)"; "none" of none.
[[nodiscard]] std::string ShareText(int part, int whole);

// Alerts in a day, "0.27"; "-" before any time has passed.
[[nodiscard]] std::string RateText(int alerts, double days);

}  // namespace turnstone::cli
