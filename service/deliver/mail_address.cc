#include "service/deliver/mail_address.h"

#include <absl/strings/ascii.h>

#include <algorithm>

namespace turnstone {
namespace {

// RFC 5321 section 4.5.3.1.3, without the angle brackets.
constexpr size_t kAddressMax = 254;

}  // namespace

absl::Status CheckMailAddress(const std::string& address) {
  const size_t at = address.find('@');
  const bool fit =
      at != std::string::npos && at > 0 && at + 1 < address.size() &&
      address.size() <= kAddressMax && address.rfind('@') == at &&
      std::all_of(address.begin(), address.end(), [](char c) {
        return absl::ascii_isgraph(static_cast<unsigned char>(c)) &&
               std::string("<>()[]\\,;:\"").find(c) == std::string::npos;
      });
  if (fit) return absl::OkStatus();
  return absl::InvalidArgumentError(
      "not an address for e-mail; write name@domain in ASCII, without spaces");
}

}  // namespace turnstone
