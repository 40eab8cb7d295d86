#include "rules/measure/time_words.h"

namespace turnstone {

std::string DayInWords(absl::Time time, absl::TimeZone zone) {
  return absl::FormatTime("%-d %b %Y", time, zone);
}

std::string MomentInWords(absl::Time time, absl::TimeZone zone) {
  return absl::FormatTime("%a %-d %b %Y %H:%M", time, zone);
}

}  // namespace turnstone
