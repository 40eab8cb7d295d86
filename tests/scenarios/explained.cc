#include "tests/scenarios/explained.h"

#include <absl/strings/str_cat.h>
#include <google/protobuf/util/message_differencer.h>

namespace turnstone::scenarios {
namespace {

using google::protobuf::util::MessageDifferencer;

// Far more than a scenario has.
constexpr int kAlertsMax = 10000;

bool IsExplainedBy(const v1::Occurrence& reason,
                   const v1::RuleOutcome& outcome) {
  const v1::Outcome wanted = reason.truth() == v1::TRUTH_TRUE
                                 ? v1::OUTCOME_RAISED
                                 : v1::OUTCOME_RAISED_FOR_REVIEW;
  return outcome.outcome() == wanted && outcome.why() == reason.why() &&
         outcome.priority() == reason.priority() &&
         MessageDifferencer::Equals(outcome.due(), reason.due()) &&
         MessageDifferencer::Equals(outcome.trace(), reason.trace());
}

// Empty: it is explained.
std::string WhatIsWrong(const v1::Alert& alert, int index, World& world) {
  v1::ExplainAlertRequest request;
  request.set_alert_id(alert.alert_id());
  request.set_occurrence(index);
  const auto explanation = world.core().ExplainAlert(request, SiteScope::All());
  if (!explanation.ok()) return explanation.status().ToString();
  for (const v1::RuleOutcome& outcome : explanation->outcome()) {
    if (outcome.rule() != alert.rule().rule()) continue;
    if (IsExplainedBy(alert.occurrence(index), outcome)) return "";
    return absl::StrCat("not by ", outcome.DebugString());
  }
  return "its rule is not among those that spoke";
}

}  // namespace

std::vector<std::string> Unexplained(World& world) {
  const auto alerts =
      world.core().AlertsAfter("", 0, kAlertsMax, SiteScope::All());
  if (!alerts.ok()) return {alerts.status().ToString()};
  std::vector<std::string> lines;
  for (const v1::Alert& alert : *alerts) {
    for (int i = 0; i < alert.occurrence_size(); ++i) {
      const std::string wrong = WhatIsWrong(alert, i, world);
      if (wrong.empty()) continue;
      lines.push_back(absl::StrCat(alert.alert_id(), ", reason ", i,
                                   ", is not explained: ", wrong));
    }
  }
  return lines;
}

}  // namespace turnstone::scenarios
