// The check digit of LOINC codes: tells a mistyped code from a real one.
#pragma once

#include <string>

namespace turnstone {

// Whether `code` is written like a LOINC number ("44260-8"), answer code
// ("LA6568-5") or answer-list code ("LL358-3"). Local codes must not be. Pure.
[[nodiscard]] bool HasLoincForm(const std::string& code);

// Whether the last digit fits the rest: the mod-10 (Luhn) rule of the LOINC
// Users' Guide; letters count as their ASCII code minus 48, which every LA and
// LL code tried agrees with. False unless HasLoincForm. Pure.
[[nodiscard]] bool LoincCheckDigitOk(const std::string& code);

}  // namespace turnstone
