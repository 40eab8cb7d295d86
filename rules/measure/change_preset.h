// What an instrument's published figures on change amount to in points.
#pragma once

#include "rules/measure/reliable_change.h"
#include "turnstone/v1/instrument.pb.h"

namespace turnstone {

// The smallest whole change the preset calls reliable: as published, or from
// its standard deviation and reliability. REQUIRES: one of the two is there.
// Pure.
[[nodiscard]] int PointsOf(const v1::ChangePreset& preset);

}  // namespace turnstone
