#include "tests/faults/alert_checks.h"

#include <absl/strings/str_cat.h>

#include <set>
#include <tuple>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"

namespace turnstone::faults {
namespace {

// The longest wait there is at the scenarios' sites: a hold of 14 days.
constexpr absl::Duration kLongestWait = absl::Hours(15 * 24);

std::string Silent(const v1::Alert& alert, absl::Time now) {
  if (!IsOpen(alert)) return "";
  const absl::Time next = FromProto(alert.escalation().next_at());
  if (alert.escalation().has_next_at() && next > now &&
      next <= now + kLongestWait) {
    return "";
  }
  return absl::StrCat("BrokeSilent: ", alert.alert_id(), " is open, and at ",
                      absl::FormatTime(now), " its next deadline is ",
                      absl::FormatTime(next));
}

std::string Unexplained(const v1::Alert& alert) {
  const v1::RuleReference& rule = alert.rule();
  bool explained = !rule.rule().empty() && rule.rule_version() > 0 &&
                   !rule.configuration().empty() &&
                   !alert.occurrence().empty() && !alert.caution().empty();
  for (const v1::Occurrence& reason : alert.occurrence()) {
    explained = explained && !reason.event_id().empty() &&
                !reason.why().empty() && !reason.trace().text().empty() &&
                reason.truth() >= v1::TRUTH_UNKNOWN;
  }
  if (explained) return "";
  return absl::StrCat("BrokeExplained: ", alert.alert_id());
}

// The same question about the same fact stands once at most.
std::string ReasonTwice(const v1::Alert& alert) {
  std::set<std::tuple<std::string, std::string, std::string, int64_t, int>>
      reasons;
  for (const v1::Occurrence& reason : alert.occurrence()) {
    if (reason.has_no_longer_since()) continue;
    if (!reasons
             .emplace(reason.event_source(), reason.event_id(),
                      reason.corrected_by(), reason.due().seconds(),
                      reason.truth())
             .second) {
      return absl::StrCat("BrokeOnce: ", alert.alert_id(), " has ",
                          reason.event_id(), " twice");
    }
  }
  return "";
}

}  // namespace

std::string WhatIsWrongWith(const std::vector<v1::Alert>& alerts,
                            absl::Time now) {
  std::set<std::tuple<std::string, std::string, std::string>> open;
  for (const v1::Alert& alert : alerts) {
    for (const std::string& wrong :
         {Silent(alert, now), Unexplained(alert), ReasonTwice(alert)}) {
      if (!wrong.empty()) return wrong;
    }
    if (IsOpen(alert) &&
        !open.emplace(alert.site(), alert.participant(), alert.rule().rule())
             .second) {
      return absl::StrCat("BrokeOnce: ", alert.alert_id(),
                          " is open beside another of the same rule");
    }
  }
  return "";
}

}  // namespace turnstone::faults
