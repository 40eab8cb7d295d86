#include "tests/faults/staff.h"

#include "rules/measure/proto_time.h"
#include "service/core/alert_record.h"

namespace turnstone::faults {
namespace {

enum Doing {
  kReceive,
  kStart,
  kHold,
  kNote,
  kClose,
  kConfirm,
  kCancel,
  kReopen
};

Doing AnyDoing(const v1::Alert& alert, Random& random) {
  if (!IsOpen(alert)) return random.PerMille(800) ? kReopen : kClose;
  if (alert.has_proposed_closing() && random.PerMille(500)) return kConfirm;
  return static_cast<Doing>(random.Below(kReopen + 1));
}

}  // namespace

v1::Actor AnyPerson(const v1::SiteConfig& site, Random& random) {
  const v1::Person& person =
      site.person(static_cast<int>(random.Below(site.person_size())));
  v1::Actor actor;
  actor.set_name(person.id());
  actor.set_role(person.role());
  return actor;
}

v1::WorkAlertRequest AnyWork(const v1::Alert& alert, absl::Time now,
                             const std::string& note, Random& random) {
  v1::WorkAlertRequest request;
  request.set_alert_id(alert.alert_id());
  switch (AnyDoing(alert, random)) {
    case kReceive:
      request.mutable_receive()->set_note(note);
      break;
    case kStart:
      request.mutable_start()->set_note(note);
      break;
    case kHold:
      request.mutable_hold()->set_reason(note);
      *request.mutable_hold()->mutable_until() =
          ToProto(now + absl::Minutes(random.Between(1, int64_t{5} * 24 * 60)));
      break;
    case kNote:
      request.mutable_note()->set_note(note);
      break;
    case kClose:
      request.mutable_close()->set_outcome("visit-arranged");
      request.mutable_close()->set_note(note);
      break;
    case kConfirm:
      request.mutable_confirm()->set_note(note);
      break;
    case kCancel:
      request.mutable_cancel()->set_reason(note);
      break;
    case kReopen:
      request.mutable_reopen()->set_reason(note);
      break;
  }
  return request;
}

}  // namespace turnstone::faults
