// The service's answers and cost beside those of a site's own tables and
// queries.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "tests/bench/callers.h"

namespace turnstone {

// Posts the events to a new service on `folder`, in order, and ends it. The
// events must fit into the day of WithinADay.
void FillStore(const std::string& program, const std::string& folder,
               const Requests& requests);

// Takes the same events into a site's own tables, `batches` events a commit in
// turn, and asks the rules at night. Then has the service on `folder`, that
// FillStore filled, wait until the same night, and counts the prompts that only
// one of the two has.
[[nodiscard]] nlohmann::ordered_json CompareWithSite(
    const std::string& program, const std::string& folder,
    const Requests& requests, const std::vector<size_t>& batches);

}  // namespace turnstone
