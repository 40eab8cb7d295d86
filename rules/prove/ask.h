// Putting a case to the engine: what the rules say of its last event, at once.
#pragma once

#include <string>
#include <vector>

#include "rules/engine/history.h"
#include "rules/engine/setup.h"
#include "rules/measure/truth.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// What one rule says when the event comes in. Rules that are asked later, and
// those that wait because they cannot tell, raise nothing at once.
struct Said {
  int rule = 0;  // index into Site::rules
  Truth truth = v1::TRUTH_UNKNOWN;
  bool raises = false;
  // Only where it raises.
  v1::Priority priority = v1::PRIORITY_UNSPECIFIED;
  friend bool operator==(const Said&, const Said&) = default;
};

// Of every rule asked at once about the last fact of `history`, in the order of
// the rules. Pure. REQUIRES: there is a fact.
[[nodiscard]] std::vector<Said> AskAtOnce(const Site& site,
                                          const History& history);

// Whether `condition` is true of the last fact, as a rule asked at once would
// find. Pure. REQUIRES: its numbers are resolved; there is a fact.
[[nodiscard]] bool IsGiven(const v1::Condition& condition, const Site& site,
                           const History& history);

// Whether `said` is an alert such as `wanted`.
[[nodiscard]] bool Satisfies(const Said& said, const v1::RaisesAlert& wanted,
                             const Site& site);

// "an alert of kind safety or referral at priority asap or higher".
[[nodiscard]] std::string WantedInWords(const v1::RaisesAlert& wanted);
// "self-harm-positive (safety, stat) is raised at once", "nothing is raised at
// once".
[[nodiscard]] std::string RaisedInWords(const std::vector<Said>& said,
                                        const Site& site);
// "safety or referral". `kinds` holds AlertKinds.
[[nodiscard]] std::string KindsInWords(
    const google::protobuf::RepeatedField<int>& kinds);
[[nodiscard]] bool HasKind(const google::protobuf::RepeatedField<int>& kinds,
                           v1::AlertKind kind);
// "stat"; "none" if unspecified.
[[nodiscard]] std::string PriorityInWords(v1::Priority priority);

}  // namespace turnstone
