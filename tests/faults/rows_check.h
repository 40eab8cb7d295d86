// BrokeAudit, and what else only the rows tell: after the end of a life.
#pragma once

#include <map>
#include <set>
#include <string>
#include <utility>

#include "tests/faults/findings.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::faults {

// What is known of the life.
struct LifeKnown {
  const v1::Configuration& configuration;
  // What people were told was done, by audit action and subject: how often.
  const std::map<std::pair<std::string, std::string>, int>& done;
  // Messages that some channel took, by key.
  const std::set<std::string>& taken;
};

// REQUIRES: the store in `folder` is closed.
void CheckRows(const std::string& folder, const LifeKnown& life,
               Findings& findings);

}  // namespace turnstone::faults
