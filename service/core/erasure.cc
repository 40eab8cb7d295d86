#include "service/core/erasure.h"

#include <absl/strings/match.h>
#include <absl/strings/str_cat.h>

#include "service/store/alert_id.h"

namespace turnstone {
namespace {

constexpr char kErased[] = "erased";

v1::Occurrence EmptiedReason(const v1::Occurrence& reason) {
  v1::Occurrence kept;
  *kept.mutable_raised_at() = reason.raised_at();
  kept.set_priority(reason.priority());
  kept.set_truth(reason.truth());
  kept.set_configuration(reason.configuration());
  kept.set_why(kErased);
  return kept;
}

}  // namespace

std::string ErasedName(const std::string& first_alert_id) {
  return absl::StrCat(kErased, "/", AlertNumber(first_alert_id).value_or(0));
}

bool IsErased(const v1::Alert& alert) {
  return absl::StartsWith(alert.participant(), absl::StrCat(kErased, "/"));
}

absl::Status CheckNotErased(const v1::Alert& alert) {
  if (!IsErased(alert)) return absl::OkStatus();
  return absl::FailedPreconditionError(absl::StrCat(
      alert.alert_id(),
      ": the participant was erased; of the alert no more is known than that "
      "it was there, and nothing can be done about it any more"));
}

v1::Alert Emptied(const v1::Alert& alert, const std::string& name) {
  v1::Alert kept = alert;
  kept.set_participant(name);
  for (v1::Occurrence& reason : *kept.mutable_occurrence()) {
    reason = EmptiedReason(reason);
  }
  for (v1::AlertChange& change : *kept.mutable_history()) {
    change.set_text(kErased);
  }
  kept.clear_hold();
  kept.clear_proposed_closing();
  if (kept.has_closing()) kept.mutable_closing()->clear_note();
  if (kept.has_withdrawal()) {
    kept.mutable_withdrawal()->clear_event_source();
    kept.mutable_withdrawal()->clear_event_id();
  }
  return kept;
}

absl::Time DischargedAt(const History& history) {
  absl::Time since = absl::InfiniteFuture();
  for (const Fact& fact : history.facts()) {
    if (fact.As<DischargeFact>() != nullptr) since = fact.effective;
    if (fact.As<EnrolmentFact>() != nullptr) since = absl::InfiniteFuture();
  }
  return since;
}

}  // namespace turnstone
