// The conditions on change and trend within a rule.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "rules/measure/noise.h"
#include "turnstone/v1/rule.pb.h"

namespace turnstone {

struct ChangeLeaf {
  const v1::Condition* condition = nullptr;
  std::string instrument;
  // Absent where `note` says why a chance cannot be reckoned.
  std::optional<ChangeAlarm> alarm;
  std::string note;
};

// REQUIRES: numbers are resolved; `condition` outlives the result. Pure.
[[nodiscard]] std::vector<ChangeLeaf> ChangeLeaves(
    const v1::Condition& condition);

}  // namespace turnstone
