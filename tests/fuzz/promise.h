// A promise of ours that must hold for any input.
#pragma once

#include <string>

namespace turnstone::fuzz {

// Aborts, saying which, unless it is kept.
void Promise(bool kept, const std::string& what);

// When the inputs come in: 2027-03-08 10:00 UTC.
inline constexpr long kNowSeconds = 1804500000;

}  // namespace turnstone::fuzz
