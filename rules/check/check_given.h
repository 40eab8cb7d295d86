// Which cases a property is about.
#pragma once

#include "rules/check/known.h"
#include "rules/check/place.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Reports what is wrong with `given` of the property at `place`, which must be
// there. `when`: the event it is asked about.
void CheckGiven(const v1::Property& property, const Place& place,
                const Known& known, const v1::Occasion& when);

}  // namespace turnstone
