#include "service/core/work.h"

#include "service/core/rights.h"
#include "service/core/work_steps.h"

namespace turnstone {
namespace {

struct Demand {
  v1::Right right;
  const char* what;
};

// What a piece of work asks of the caller's role.
Demand DemandOf(const v1::WorkAlertRequest& request, const v1::Alert& alert) {
  switch (request.action_case()) {
    case v1::WorkAlertRequest::kClose:
      if (!alert.latched()) break;
      return {v1::CLOSE_LATCHED, "close an alert that a person must close"};
    case v1::WorkAlertRequest::kConfirm:
      return {v1::CONFIRM, "confirm as the second person"};
    case v1::WorkAlertRequest::kCancel:
      return {v1::CANCEL, "cancel alerts"};
    default:
      break;
  }
  return {v1::WORK, "work alerts"};
}

}  // namespace

absl::StatusOr<WorkDone> Work(const v1::WorkAlertRequest& request,
                              const Desk& desk, v1::Alert& alert) {
  const Demand demand = DemandOf(request, alert);
  absl::Status may =
      CheckMay(desk.by, demand.right, demand.what, desk.around.site);
  if (!may.ok()) return may;
  switch (request.action_case()) {
    case v1::WorkAlertRequest::kReceive:
      return TakeIt(v1::ALERT_STATUS_RECEIVED, "received",
                    request.receive().note(), desk, alert);
    case v1::WorkAlertRequest::kStart:
      return TakeIt(v1::ALERT_STATUS_IN_PROGRESS, "started",
                    request.start().note(), desk, alert);
    case v1::WorkAlertRequest::kHold:
      return HoldIt(request.hold(), desk, alert);
    case v1::WorkAlertRequest::kNote:
      return NoteIt(request.note(), desk, alert);
    case v1::WorkAlertRequest::kClose:
      return CloseIt(request.close(), desk, alert);
    case v1::WorkAlertRequest::kConfirm:
      return ConfirmIt(request.confirm(), desk, alert);
    case v1::WorkAlertRequest::kCancel:
      return CancelIt(request.cancel(), desk, alert);
    case v1::WorkAlertRequest::kReopen:
    case v1::WorkAlertRequest::ACTION_NOT_SET:
      break;
  }
  return absl::InvalidArgumentError(
      "action: missing; send one of receive, start, hold, note, close, "
      "confirm, cancel, reopen");
}

}  // namespace turnstone
