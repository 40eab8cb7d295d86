// What an instrument says of its totals: bands, estimate, symptom count.
#pragma once

#include "rules/check/place.h"
#include "rules/measure/catalogue.h"

namespace turnstone {

// Each reports at `file`, where the scale's definition stands.

// Bands must cover every total from lowest to highest, in this order, once.
void CheckBands(const Scale& scale, const Place& file);
void CheckProrating(const Scale& scale, const Place& file);
void CheckSymptomCount(const Scale& scale, const Place& file);

}  // namespace turnstone
