// Taking an alert on, putting it aside for a time, and adding to its story.
#include <absl/strings/str_cat.h>

#include "rules/measure/proto_time.h"
#include "rules/measure/time_words.h"
#include "service/core/alert_record.h"
#include "service/core/work_checks.h"
#include "service/core/work_steps.h"

namespace turnstone {
namespace {

bool Has(const v1::Actor& by, const v1::Alert& alert) {
  return alert.has_holder() && alert.holder().name() == by.name();
}

// ", from r.sorrel" where somebody else has it.
std::string FromWhom(const v1::Actor& by, const v1::Alert& alert) {
  if (!alert.has_holder() || Has(by, alert)) return "";
  return absl::StrCat(", from ", alert.holder().name());
}

absl::Status CheckHold(const v1::PutOnHold& hold, const Desk& desk,
                       const v1::Alert& alert) {
  absl::Status status = RequireOpen(alert);
  if (status.ok()) {
    status = RequireNote("reason", hold.reason(), "what it waits for");
  }
  if (!status.ok()) return status;
  if (alert.latched() && alert.priority() == v1::PRIORITY_STAT) {
    return absl::FailedPreconditionError(absl::StrCat(
        alert.alert_id(),
        " cannot wait and must be closed by a person; it cannot be put on "
        "hold. Write a note instead"));
  }
  if (alert.has_proposed_closing()) {
    return absl::FailedPreconditionError(
        absl::StrCat(alert.alert_id(),
                     " waits for a second person; confirm "
                     "it, or close it anew"));
  }
  const int days = desk.around.site.config.longest_hold_days();
  const absl::Time until = FromProto(hold.until());
  if (hold.has_until() && until > desk.now &&
      until <= desk.now + absl::Hours(24 * days)) {
    return absl::OkStatus();
  }
  return absl::InvalidArgumentError(
      absl::StrCat("until: say until when, later than now and at most ", days,
                   " days from now"));
}

}  // namespace

WorkDone TakeOn(v1::AlertStatus status, const std::string& text,
                const Desk& desk, v1::Alert& alert) {
  const bool had =
      Has(desk.by, alert) && alert.escalation().climbing() == v1::UNTIL_CLOSED;
  alert.set_status(status);
  *alert.mutable_holder() = desk.by;
  alert.clear_hold();
  Record(desk.by, text, desk.now, alert);
  if (!had) BeginClimb(v1::UNTIL_CLOSED, desk.now, desk.around.site, alert);
  return {"", !had, {}};
}

absl::StatusOr<WorkDone> TakeIt(v1::AlertStatus status, const std::string& verb,
                                const std::string& note, const Desk& desk,
                                v1::Alert& alert) {
  absl::Status allowed = RequireOpen(alert);
  if (allowed.ok()) allowed = CheckNote("note", note);
  if (allowed.ok()) allowed = CheckTakeOver(desk.by, note, alert);
  if (!allowed.ok()) return allowed;
  // Said again, or said of what is further on already.
  const bool nothing_new =
      Has(desk.by, alert) && (alert.status() == status ||
                              alert.status() == v1::ALERT_STATUS_IN_PROGRESS);
  if (nothing_new) return WorkDone();
  std::string text = verb + FromWhom(desk.by, alert);
  if (!note.empty()) absl::StrAppend(&text, ": ", note);
  WorkDone done = TakeOn(status, text, desk, alert);
  done.action = absl::StrCat("alert ", verb);
  return done;
}

absl::StatusOr<WorkDone> HoldIt(const v1::PutOnHold& hold, const Desk& desk,
                                v1::Alert& alert) {
  absl::Status status = CheckHold(hold, desk, alert);
  if (!status.ok()) return status;
  const std::string from = FromWhom(desk.by, alert);
  alert.set_status(v1::ALERT_STATUS_ON_HOLD);
  *alert.mutable_holder() = desk.by;
  *alert.mutable_hold()->mutable_until() = hold.until();
  alert.mutable_hold()->set_reason(hold.reason());
  const std::string until =
      MomentInWords(FromProto(hold.until()), desk.around.site.calendar.zone());
  Record(desk.by,
         absl::StrCat("on hold until ", until, from, ": ", hold.reason()),
         desk.now, alert);
  BeginClimb(v1::UNTIL_HOLD_ENDS, desk.now, desk.around.site, alert);
  return WorkDone{"alert put on hold", true, {}};
}

absl::StatusOr<WorkDone> NoteIt(const v1::AddNote& note, const Desk& desk,
                                v1::Alert& alert) {
  absl::Status status =
      RequireNote("note", note.note(), "what there is to add");
  if (!status.ok()) return status;
  Record(desk.by, absl::StrCat("note: ", note.note()), desk.now, alert);
  return WorkDone{"note added", false, {}};
}

}  // namespace turnstone
