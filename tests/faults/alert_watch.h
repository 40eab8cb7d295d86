// BrokeOnTime, BrokeDurable and BrokeScope, of alerts: each against what was
// seen of it before.
#pragma once

#include <absl/time/time.h>

#include <map>
#include <string>
#include <vector>

#include "tests/faults/findings.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone::faults {

// Single-thread.
class AlertWatch {
 public:
  explicit AlertWatch(Findings& findings) : findings_(findings) {}

  // As somebody was answered: it is durable, though more may have happened in
  // the same moment.
  void Answered(const v1::Alert& alert);
  // As it is on record of `site` at `now`, when everything due is done.
  void Take(const v1::Alert& alert, const std::string& site, absl::Time now,
            const v1::Configuration& configuration);
  // No deadline of any alert has passed.
  void CheckDeadlines(absl::Time now, const v1::Configuration& configuration);
  // Those seen are all among `now`, which is everything there is.
  void CheckNoneIsGone(const std::map<std::string, int64_t>& now);

  // By id, as last seen.
  [[nodiscard]] const std::map<std::string, v1::Alert>& seen() const {
    return seen_;
  }

 private:
  void CompareWithBefore(const v1::Alert& before, const v1::Alert& alert,
                         absl::Time now,
                         const v1::Configuration& configuration);
  void CheckPeople(const v1::Alert& alert, const v1::SiteConfig& site);

  Findings& findings_;
  std::map<std::string, v1::Alert> seen_;
};

// What people did with it, each in a line.
[[nodiscard]] std::vector<std::string> PeoplesEntries(const v1::Alert& alert);

}  // namespace turnstone::faults
