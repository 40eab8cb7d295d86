#include "service/core/alert_record.h"

#include "rules/measure/proto_time.h"

namespace turnstone {

bool IsOpen(const v1::Alert& alert) {
  return alert.status() == v1::ALERT_STATUS_REQUESTED ||
         alert.status() == v1::ALERT_STATUS_RECEIVED ||
         alert.status() == v1::ALERT_STATUS_IN_PROGRESS ||
         alert.status() == v1::ALERT_STATUS_ON_HOLD;
}

v1::Actor ServiceActor() {
  v1::Actor actor;
  actor.set_name("turnstoned");
  actor.set_role("service");
  actor.set_identity("service");
  return actor;
}

v1::AlertChange& Record(const v1::Actor& by, const std::string& text,
                        absl::Time now, v1::Alert& alert) {
  v1::AlertChange& change = *alert.add_history();
  *change.mutable_at() = ToProto(now);
  *change.mutable_by() = by;
  change.set_status(alert.status());
  change.set_priority(alert.priority());
  change.set_text(text);
  return change;
}

void End(v1::AlertStatus status, v1::Alert& alert) {
  alert.set_status(status);
  alert.clear_holder();
  alert.clear_hold();
  alert.clear_proposed_closing();
  alert.clear_escalation();
}

}  // namespace turnstone
