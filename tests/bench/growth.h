// Whether an event costs as much in a large programme as in a small one.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace turnstone {

struct GrowthPlan {
  std::vector<int> participants;  // ascending
  std::vector<int> histories;     // events each, ascending
  int history_participants = 0;
  int probes = 0;  // events measured at each size
};

// Fills a service with participants who have two events each, and measures at
// each size events about some of them, and the memory in use; at the end, kills
// it and measures how long it takes to serve again.
[[nodiscard]] nlohmann::ordered_json GrowByParticipants(
    const GrowthPlan& plan, const std::string& program,
    const std::string& folder);

// The same for few participants who have ever more events.
[[nodiscard]] nlohmann::ordered_json GrowByHistory(const GrowthPlan& plan,
                                                   const std::string& program,
                                                   const std::string& folder);

}  // namespace turnstone
