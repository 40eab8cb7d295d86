// The rules alone, in memory: ten of ours beside the same ten in CLIPS.
#pragma once

#include <nlohmann/json.hpp>

namespace turnstone {

// Both judge the courses of so many people, in turn, `repeats` times. "differ":
// prompts that only one of them has.
[[nodiscard]] nlohmann::ordered_json CompareRulesAlone(int people, int repeats);

}  // namespace turnstone
