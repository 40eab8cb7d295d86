// A site's working days.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

void CheckCalendar(const v1::Calendar& calendar, const Place& place);

}  // namespace turnstone
