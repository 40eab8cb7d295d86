// One climb of a ladder: who is told, and who next.
#pragma once

#include "rules/check/place.h"
#include "rules/check/staff.h"
#include "turnstone/v1/duty.pb.h"

namespace turnstone {

// Reports everything wrong with the climb at `place`. `held`: somebody has the
// alert meanwhile. Pure.
void CheckClimb(const v1::Climb& climb, const Place& place, const Staff& staff,
                bool held);

}  // namespace turnstone
