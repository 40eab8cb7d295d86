#include "rules/check/codes.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/measure/check_digit.h"

namespace turnstone {
namespace {

bool IsCodeLetter(char letter) {
  return absl::ascii_isalnum(static_cast<unsigned char>(letter)) ||
         letter == '-';
}

}  // namespace

bool CheckCode(const Place& place, const std::string& code) {
  if (code.empty()) {
    place.Report("code-missing", "the code is missing or empty",
                 "write a LOINC code, or a local one of letters, digits and "
                 "hyphens");
    return false;
  }
  if (!std::all_of(code.begin(), code.end(), IsCodeLetter)) {
    place.Report("code-not-plain",
                 absl::StrCat("code \"", code,
                              "\" holds other characters than letters, digits "
                              "and hyphens"),
                 "write it without them");
    return false;
  }
  if (HasLoincForm(code) && !LoincCheckDigitOk(code)) {
    place.Report("code-check-digit-wrong",
                 absl::StrCat("code \"", code,
                              "\" looks like a LOINC code, but its last digit, "
                              "the check digit, is wrong"),
                 "compare it with the source, digit by digit");
    return false;
  }
  return true;
}

}  // namespace turnstone
