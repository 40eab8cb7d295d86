// A site's working days, and dates in general.
#pragma once

#include "rules/check/place.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

void CheckCalendar(const v1::Calendar& calendar, const Place& place);

// Reports at `place` unless `text`, the value of `field`, is an ISO 8601 date
// that exists.
void CheckDate(const Place& place, const std::string& field,
               const std::string& text);

}  // namespace turnstone
