// Safety properties: complete, possible, and fit to be proved.
#pragma once

#include "rules/check/known.h"
#include "rules/check/place.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Reports everything wrong with the property set at `file`. A number may name
// a setting: it is looked up in the rule set the property is proved of, so that
// every rule set must have it. Pure.
void CheckPropertySet(const v1::PropertySet& set, const Place& file,
                      const Known& known);

}  // namespace turnstone
