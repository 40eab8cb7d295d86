// Forms as they come in: whole, with gaps, declined, as a total alone.
#pragma once

#include "tests/second/dice.h"
#include "turnstone/v1/event.pb.h"
#include "turnstone/v1/instrument.pb.h"

namespace turnstone::second {

// Valid for the instrument. `severity`: 0 to 100, which answers are likely.
// Named by its panel code now and then.
[[nodiscard]] v1::ScreeningResult RandomForm(const v1::Instrument& instrument,
                                             int severity, Dice& dice);

}  // namespace turnstone::second
