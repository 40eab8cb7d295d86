#include "rules/measure/check_digit.h"

#include <absl/strings/ascii.h>

#include <algorithm>

namespace turnstone {

bool HasLoincForm(const std::string& code) {
  const bool lettered = code.rfind("LA", 0) == 0 || code.rfind("LL", 0) == 0;
  const std::string number = code.substr(lettered ? 2 : 0);
  if (number.size() < 3 || number[number.size() - 2] != '-') return false;
  return std::count_if(number.begin(), number.end(), absl::ascii_isdigit) ==
         static_cast<std::ptrdiff_t>(number.size()) - 1;
}

bool LoincCheckDigitOk(const std::string& code) {
  if (!HasLoincForm(code)) return false;
  int sum = 0;
  bool doubled = false;
  for (auto at = code.rbegin(); at != code.rend(); ++at) {
    if (*at == '-') continue;
    const int value = *at - '0';
    sum += doubled ? 2 * value - 9 * (value / 5) : value;
    doubled = !doubled;
  }
  return sum % 10 == 0;
}

}  // namespace turnstone
