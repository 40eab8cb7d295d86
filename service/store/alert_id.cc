#include "service/store/alert_id.h"

#include <absl/strings/numbers.h>
#include <absl/strings/str_cat.h>

namespace turnstone {

std::string AlertId(int64_t number) { return absl::StrCat("A-", number); }

std::optional<int64_t> AlertNumber(const std::string& id) {
  int64_t number = 0;
  if (id.size() < 3 || !absl::SimpleAtoi(id.substr(2), &number) ||
      number <= 0 || AlertId(number) != id) {
    return std::nullopt;
  }
  return number;
}

}  // namespace turnstone
