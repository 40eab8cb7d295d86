#include "rules/duty/concerns.h"

#include <absl/strings/str_cat.h>

#include "rules/duty/written_time.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

constexpr absl::Duration kLookAhead = absl::Hours(24 * 90);

}  // namespace

std::vector<Gap> StaffingGaps(const Team& team, absl::Time now,
                              const std::vector<Swap>& swaps) {
  std::vector<Gap> gaps;
  for (const Rota& rota : team.rotas()) {
    for (const Shift& shift : rota.Between(now, now + kLookAhead, swaps)) {
      if (!shift.persons.empty()) continue;
      gaps.push_back({rota.role(), shift.from, shift.until});
    }
  }
  return gaps;
}

std::vector<std::string> ConcernsOf(const v1::SiteConfig& site,
                                    const Team& team, absl::TimeZone zone,
                                    absl::Time now,
                                    const std::vector<Swap>& swaps) {
  std::vector<std::string> concerns;
  for (const Gap& gap : StaffingGaps(team, now, swaps)) {
    // What comes after was not looked at.
    const bool open = gap.until == now + kLookAhead;
    concerns.push_back(absl::StrCat(
        gap.role, ": nobody is on duty from ", MomentInWords(gap.from, zone),
        " to ", open ? "at least " : "", MomentInWords(gap.until, zone)));
  }
  const absl::CivilDay today(absl::ToCivilSecond(now, zone));
  for (const v1::Protocol& protocol : site.protocol()) {
    if (today <= ReadDay(protocol.review_by()).value()) continue;
    concerns.push_back(absl::StrCat("protocol ", protocol.id(),
                                    ": its review was due by ",
                                    protocol.review_by()));
  }
  return concerns;
}

}  // namespace turnstone
