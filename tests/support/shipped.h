// What we ship, loaded for tests.
#pragma once

#include <string>

#include "rules/engine/setup.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// rules/ and deploy/config/ together. Aborts, printing the findings, if they do
// not load.
[[nodiscard]] v1::Configuration ShippedConfiguration();
// The same without a daily sign of life: nothing is owed before something
// happens.
[[nodiscard]] v1::Configuration WithoutSignOfLife();
// The first, ready for use.
[[nodiscard]] Setup ShippedSetup();

}  // namespace turnstone
