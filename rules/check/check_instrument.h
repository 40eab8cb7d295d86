// One instrument: whole in itself, and scorable.
#pragma once

#include <optional>

#include "rules/check/place.h"
#include "rules/measure/catalogue.h"

namespace turnstone {

// Reports everything wrong with the instrument at `file`. The scale if there
// is nothing. Pure.
[[nodiscard]] std::optional<Scale> CheckInstrument(
    const v1::Instrument& instrument, const Place& file);

}  // namespace turnstone
