// Codes of questions, answers and answer lists.
#pragma once

#include <string>

#include "rules/check/place.h"

namespace turnstone {

// Reports a code at `place` that is empty, holds other characters than letters,
// digits and hyphens, or looks like LOINC's (44260-8, LA6568-5, LL358-3) and
// has a wrong check digit.
bool CheckCode(const Place& place, const std::string& code);

}  // namespace turnstone
