// Days and moments as people write them. Pure.
#pragma once

#include <absl/time/time.h>

#include <string>

namespace turnstone {

// "3 Feb 2027".
[[nodiscard]] std::string DayInWords(absl::Time time, absl::TimeZone zone);

// "Wed 3 Feb 2027 09:00".
[[nodiscard]] std::string MomentInWords(absl::Time time, absl::TimeZone zone);

}  // namespace turnstone
