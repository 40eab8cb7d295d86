#include "service/core/duty_view.h"

#include <tuple>

#include "rules/measure/proto_time.h"
#include "service/store/alert_id.h"

namespace turnstone {

v1::Duty DutyAt(const Rota& rota, absl::Time at,
                const std::vector<Swap>& swaps) {
  const Shift shift = rota.At(at, swaps);
  v1::Duty duty;
  duty.set_role(rota.role());
  duty.mutable_person()->Assign(shift.persons.begin(), shift.persons.end());
  duty.set_why(shift.why);
  // A shift that is cut off there does not end within the year.
  if (shift.until >= at + absl::Hours(24 * 365)) return duty;
  *duty.mutable_until() = ToProto(shift.until);
  const Shift next = rota.At(shift.until, swaps);
  duty.mutable_next_person()->Assign(next.persons.begin(), next.persons.end());
  return duty;
}

bool MorePressing(const v1::Alert* a, const v1::Alert* b) {
  const auto key = [](const v1::Alert& alert) {
    return std::make_tuple(-alert.priority(), FromProto(alert.raised_at()),
                           AlertNumber(alert.alert_id()).value_or(0));
  };
  return key(*a) < key(*b);
}

}  // namespace turnstone
