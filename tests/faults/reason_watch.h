// BrokeRaises and BrokeShadow: whether alerts have the reasons they must have,
// and no others, as far as rules_model.h knows.
#pragma once

#include <set>
#include <string>
#include <tuple>

#include "tests/faults/findings.h"
#include "turnstone/v1/alert.pb.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone::faults {

// Single-thread.
class ReasonWatch {
 public:
  explicit ReasonWatch(Findings& findings) : findings_(findings) {}

  // It is on record.
  void Take(const v1::Event& event);
  void Take(const v1::Alert& alert);
  // A version in shadow, by its digest: nothing may come of it.
  void TakeShadow(const std::string& digest) { shadows_.insert(digest); }
  // Everything on record was taken.
  void Check();

 private:
  // Site, participant, rule, source and id of the event, and its correction.
  using Reason = std::tuple<std::string, std::string, std::string, std::string,
                            std::string, std::string>;

  Findings& findings_;
  std::set<Reason> wanted_;
  std::set<Reason> found_;
  std::set<Reason> missing_;  // wanted, and not found yet
  std::set<Reason> strange_;  // found, and not wanted
  std::set<std::string> shadows_;
};

}  // namespace turnstone::faults
