#include "tests/fuzz/targets.h"

namespace turnstone::fuzz {

const std::vector<Target>& Targets() {
  static const auto& targets = *new std::vector<Target>{
      {"event_json", &EventJson}, {"event_wire", &EventWire},
      {"rule_file", &RuleFile},   {"instrument_file", &InstrumentFile},
      {"site_file", &SiteFile},   {"scenario", &Scenario},
      {"stored_row", &StoredRow},
  };
  return targets;
}

}  // namespace turnstone::fuzz
