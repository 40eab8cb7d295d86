#include "service/core/reopen.h"

#include <absl/strings/str_cat.h>

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"
#include "service/core/rights.h"
#include "service/core/work_checks.h"

namespace turnstone {

absl::Status CheckReopen(const v1::Reopen& request, const Desk& desk,
                         const v1::Alert& alert) {
  absl::Status status =
      CheckMay(desk.by, v1::WORK, "work alerts", desk.around.site);
  if (status.ok()) {
    status =
        RequireNote("reason", request.reason(), "why it is taken up again");
  }
  if (!status.ok()) return status;
  if (IsOpen(alert)) {
    return absl::FailedPreconditionError(
        absl::StrCat(alert.alert_id(), " is open; there is nothing to reopen"));
  }
  if (!alert.reopened_as().empty()) {
    return absl::FailedPreconditionError(
        absl::StrCat(alert.alert_id(), " was taken up again already, as ",
                     alert.reopened_as()));
  }
  return absl::OkStatus();
}

v1::Alert Reopen(const v1::Reopen& request, const Desk& desk,
                 const std::string& new_id, v1::Alert& ended) {
  v1::Alert alert = ended;
  alert.set_alert_id(new_id);
  alert.set_status(v1::ALERT_STATUS_REQUESTED);
  alert.set_site_version(desk.around.site.config.version());
  alert.set_reopens(ended.alert_id());
  *alert.mutable_raised_at() = ToProto(desk.now);
  alert.clear_withdrawal();
  alert.clear_closing();
  alert.clear_history();
  Record(
      desk.by,
      absl::StrCat("takes up ", ended.alert_id(), " again: ", request.reason()),
      desk.now, alert);
  BeginClimb(v1::UNTIL_RECEIVED, desk.now, desk.around.site, alert);
  ended.set_reopened_as(new_id);
  Record(desk.by,
         absl::StrCat("taken up again as ", new_id, ": ", request.reason()),
         desk.now, ended);
  return alert;
}

}  // namespace turnstone
