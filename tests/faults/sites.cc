#include "tests/faults/sites.h"

#include <cstdio>
#include <cstdlib>
#include <map>
#include <string>

#include "platform/files.h"
#include "rules/check/load.h"
#include "tests/scenarios/world.h"

namespace turnstone::faults {
namespace {

v1::Configuration Load() {
  const std::string root = TURNSTONE_SOURCE_DIR;
  std::map<std::string, std::string> files;
  for (const std::string folder : {"/rules", "/tests/scenarios/sites"}) {
    files.merge(ReadTextprotos(root + folder).value());
  }
  LoadResult result = LoadConfiguration(files, {.complete = true});
  for (const Finding& finding : result.findings) {
    std::fprintf(stderr, "%s\n", finding.ToString().c_str());
  }
  if (!result.configuration) std::abort();
  scenarios::LeaveOutExamples(*result.configuration);
  return *std::move(result.configuration);
}

}  // namespace

const v1::Configuration& TwoSites() {
  static const auto& configuration = *new v1::Configuration(Load());
  return configuration;
}

void ChangeASite(Random& random, v1::Configuration& files) {
  v1::SiteConfig& site =
      *files.mutable_site(static_cast<int>(random.Below(files.site_size())));
  site.set_version(site.version() + 1);
  v1::Ladder& ladder =
      *site.mutable_ladder(static_cast<int>(random.Below(site.ladder_size())));
  v1::Climb& climb = random.PerMille(500) ? *ladder.mutable_until_received()
                                          : *ladder.mutable_until_closed();
  climb.mutable_repeat_every()->set_hours(
      static_cast<int>(random.Between(1, 24)));
}

v1::Configuration WithOtherRules(const v1::Configuration& files) {
  v1::Configuration other = files;
  for (v1::SiteConfig& site : *other.mutable_site()) {
    v1::SettingOverride& lower = *site.add_override();
    lower.set_name("above-range");
    lower.set_value(8);
    lower.set_reason("to see what it would find");
  }
  return other;
}

}  // namespace turnstone::faults
