// Addresses that are safe to write into an e-mail.
#pragma once

#include <absl/status/status.h>

#include <string>

namespace turnstone {

// INVALID_ARGUMENT, without the address, unless `address` can stand in a
// header and in an SMTP command as it is: name@domain in ASCII, without spaces
// and without what would have to be quoted (RFC 5321 section 4.1.2).
[[nodiscard]] absl::Status CheckMailAddress(const std::string& address);

}  // namespace turnstone
