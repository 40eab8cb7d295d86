// How often the rules on change and trend of a configuration would speak of
// somebody whose true state never changes.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/noise.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

struct NoiseAt {
  int follow_ups = 0;
  Chance chance;
};

// One measurement error, and the chances that go with it.
struct NoiseRow {
  // Standard error of measurement in points, and whose figures it comes from.
  // Absent where the chance does not depend on it.
  std::optional<double> sem;
  std::string preset;
  // Totals come in whole points, so that what is half a point short of the
  // limit may be rounded up to it. False: as the published budgets reckon.
  bool whole_totals = false;
  std::vector<NoiseAt> at;
};

// One condition on change or trend.
struct NoiseOf {
  std::string site;  // empty: the rule set's own numbers
  std::string rule;
  // The condition in words, taken alone: other conditions of the rule only make
  // it speak less often.
  std::string condition;
  // Empty where `note` says why there is nothing to reckon.
  std::vector<NoiseRow> row;
  std::string note;
};

// In order of sites, rules and conditions. Follow-ups are 1, 3, 5, 7 and one
// fewer than the visits of the programme. Takes seconds where it must simulate.
// REQUIRES: `configuration` came from LoadConfiguration, with every instrument
// its rules name and every number filled in. Pure.
[[nodiscard]] std::vector<NoiseOf> ReckonNoise(
    const v1::Configuration& configuration);

}  // namespace turnstone
