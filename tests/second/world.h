// What the second evaluator goes by: the rules with their numbers filled in,
// the instruments and the site, as plain messages.
//
// Everything in tests/second but the tests themselves is written from the
// comments in proto/ and from published scoring rules, without a look at
// rules/engine or rules/measure, and links neither. Where a comment in proto/
// is silent, the reading taken is stated where it is taken.
#pragma once

#include <absl/time/time.h>

#include <map>
#include <string>

#include "turnstone/v1/site.pb.h"

namespace turnstone::second {

struct World {
  v1::SiteConfig site;
  absl::TimeZone zone;
  // Every Number holds its value.
  v1::RuleSet rules;
  // By id, and once more by panel code.
  std::map<std::string, v1::Instrument> instruments;
};

// Aborts where the configuration does not hold together.
[[nodiscard]] World MakeWorld(const v1::Configuration& configuration,
                              const std::string& site);

}  // namespace turnstone::second
