#include "tests/scenarios/show_burden.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

namespace turnstone::scenarios {
namespace {

std::string TimesLine(const std::string& what, const v1::Times& times) {
  if (times.count() == 0) return what + ": none";
  return absl::StrCat(what, ": ", times.count(), ", median ",
                      absl::FormatDuration(absl::Seconds(times.median())),
                      ", longest ",
                      absl::FormatDuration(absl::Seconds(times.longest())));
}

}  // namespace

std::vector<std::string> BurdenLines(const v1::Burden& burden) {
  std::vector<std::string> lines = {
      absl::StrCat(burden.alerts(), " alerts of ", burden.participants(),
                   " participants, ", burden.repeats(), " repeats, ",
                   burden.tellings(), " tellings"),
      TimesLine("received", burden.to_receive()),
      TimesLine("ended", burden.to_close()),
      absl::StrCat(burden.not_received(), " not received, ",
                   burden.open_over_24_hours(), " open over 24 hours, ",
                   burden.without_action(), " without action")};
  for (const v1::PersonLoad& load : burden.by_person()) {
    lines.push_back(absl::StrCat(load.person(), ": ", load.alerts(),
                                 " alerts, ", load.tellings(), " tellings, ",
                                 load.received(), " received"));
  }
  return lines;
}

}  // namespace turnstone::scenarios
