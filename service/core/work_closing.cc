// Ending an alert.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "service/core/tell.h"
#include "service/core/work_checks.h"
#include "service/core/work_steps.h"

namespace turnstone {
namespace {

bool NeedsSecondPerson(const v1::Alert& alert, const Site& site) {
  const auto& kinds = site.config.second_person();
  return alert.latched() &&
         std::find(kinds.begin(), kinds.end(), alert.kind()) != kinds.end();
}

// Said again.
bool IsSame(const v1::Closing& closing, const v1::Closing& before) {
  return closing.by().name() == before.by().name() &&
         closing.outcome() == before.outcome() &&
         closing.note() == before.note();
}

WorkDone Complete(const v1::Closing& closing, const std::string& text,
                  const Desk& desk, v1::Alert& alert) {
  *alert.mutable_closing() = closing;
  End(v1::ALERT_STATUS_COMPLETED, alert);
  Record(desk.by, text, desk.now, alert);
  return {"alert closed", true, {}};
}

WorkDone Propose(const v1::Closing& closing, const Desk& desk,
                 v1::Alert& alert) {
  WorkDone done = TakeOn(
      v1::ALERT_STATUS_IN_PROGRESS,
      absl::StrCat("closed: ", closing.outcome(),
                   "; a second person is to confirm it: ", closing.note()),
      desk, alert);
  *alert.mutable_proposed_closing() = closing;
  done.action = "closing proposed";
  const std::string why = absl::StrCat("a second person is to confirm what ",
                                       desk.by.name(), " has closed");
  done.tellings.push_back(
      TellApart(SecondPersons(desk.by.name(), desk.now, desk.around), why,
                desk.now, desk.around, alert));
  return done;
}

}  // namespace

absl::StatusOr<WorkDone> CloseIt(const v1::Close& close, const Desk& desk,
                                 v1::Alert& alert) {
  const Site& site = desk.around.site;
  absl::Status status = RequireOpen(alert);
  if (status.ok()) status = RequireOutcome(close.outcome(), alert, site);
  if (status.ok()) status = RequireNote("note", close.note(), "what was done");
  if (!status.ok()) return status;
  v1::Closing closing;
  closing.set_outcome(close.outcome());
  closing.set_note(close.note());
  *closing.mutable_by() = desk.by;
  *closing.mutable_at() = ToProto(desk.now);
  if (NeedsSecondPerson(alert, site)) {
    if (IsSame(closing, alert.proposed_closing())) return WorkDone();
    return Propose(closing, desk, alert);
  }
  return Complete(closing, absl::StrCat("closed: ", close.outcome()), desk,
                  alert);
}

absl::StatusOr<WorkDone> ConfirmIt(const v1::Confirm& confirm, const Desk& desk,
                                   v1::Alert& alert) {
  absl::Status status = RequireOpen(alert);
  if (status.ok()) status = CheckNote("note", confirm.note());
  if (!status.ok()) return status;
  if (!alert.has_proposed_closing()) {
    return absl::FailedPreconditionError(absl::StrCat(
        "nobody has closed ", alert.alert_id(),
        " yet; close it with an outcome first, then another confirms"));
  }
  v1::Closing closing = alert.proposed_closing();
  if (closing.by().name() == desk.by.name()) {
    return absl::FailedPreconditionError(
        absl::StrCat(desk.by.name(), " has closed ", alert.alert_id(),
                     " and cannot confirm it too; ask somebody else who may"));
  }
  *closing.mutable_confirmed_by() = desk.by;
  std::string text = absl::StrCat("confirmed: ", closing.outcome());
  if (!confirm.note().empty()) absl::StrAppend(&text, ": ", confirm.note());
  return Complete(closing, text, desk, alert);
}

absl::StatusOr<WorkDone> CancelIt(const v1::Cancel& cancel, const Desk& desk,
                                  v1::Alert& alert) {
  absl::Status status = RequireOpen(alert);
  if (status.ok() && alert.latched()) {
    status = absl::FailedPreconditionError(
        absl::StrCat(alert.alert_id(),
                     " must be closed by a person with an outcome; it cannot "
                     "be cancelled"));
  }
  if (status.ok()) {
    status =
        RequireNote("reason", cancel.reason(), "why nobody need act on it");
  }
  if (!status.ok()) return status;
  End(v1::ALERT_STATUS_CANCELLED, alert);
  Record(desk.by, absl::StrCat("cancelled: ", cancel.reason()), desk.now,
         alert);
  return WorkDone{"alert cancelled", true, {}};
}

}  // namespace turnstone
