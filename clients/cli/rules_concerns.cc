#include "clients/cli/rules_concerns.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include <nlohmann/json.hpp>
#include <regex>
#include <utility>

#include "clients/cli/render/clean.h"
#include "clients/cli/render/text.h"
#include "clients/cli/render/time.h"
#include "rules/duty/concerns.h"
#include "rules/duty/team.h"

namespace turnstone::cli {

absl::StatusOr<LookFrom> ParseLookFrom(const std::string& day, absl::Time now) {
  if (day.empty()) return LookFrom([now](absl::TimeZone) { return now; });
  // absl would also take a year of any length.
  static const std::regex pattern(R"(\d{4}-\d{2}-\d{2})");
  absl::CivilDay civil;
  if (std::regex_match(day, pattern) && absl::ParseCivilTime(day, &civil)) {
    return LookFrom(
        [civil](absl::TimeZone zone) { return absl::FromCivil(civil, zone); });
  }
  return absl::InvalidArgumentError(
      "--at is not a day; write it as 2027-02-06, or leave it out for today");
}

std::vector<SiteConcern> ConcernsOfSites(const v1::Configuration& configuration,
                                         const LookFrom& from) {
  std::vector<SiteConcern> all;
  for (const v1::SiteConfig& site : configuration.site()) {
    const absl::TimeZone zone = Zone(site.time_zone());
    for (std::string& concern :
         ConcernsOf(site, Team(site, zone), zone, from(zone), {})) {
      all.push_back({site.id(), std::move(concern)});
    }
  }
  return all;
}

std::string ConcernsText(const std::vector<SiteConcern>& concerns, bool json) {
  std::string text;
  for (const SiteConcern& each : concerns) {
    if (json) {
      const nlohmann::ordered_json object = {{"site", each.site},
                                             {"concern", each.concern}};
      text += object.dump(-1, ' ', false,
                          nlohmann::ordered_json::error_handler_t::replace) +
              "\n";
    } else {
      text += WrapAfter(
          "to see to: ", CleanLine(absl::StrCat(each.site, ": ", each.concern)),
          4);
    }
  }
  return text;
}

}  // namespace turnstone::cli
