// Properties over every visit history and every score path.
#pragma once

#include "rules/engine/setup.h"
#include "rules/prove/proof.h"
#include "turnstone/v1/property.pb.h"

namespace turnstone {

// Fill in what became of `property`, which wants an alert raised; its numbers
// are resolved. Pure.

void ProveOverVisits(const v1::Property& property, const Site& site,
                     const Catalogue& catalogue, Proof& proof);
// REQUIRES: `scale`, the property's instrument, has items.
void ProveOverScores(const v1::Property& property, const Site& site,
                     const Catalogue& catalogue, const Scale& scale,
                     Proof& proof);

}  // namespace turnstone
