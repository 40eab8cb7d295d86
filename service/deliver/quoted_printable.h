// Text that any mail server carries unchanged.
#pragma once

#include <string>

namespace turnstone {

// `text`, whose lines end with LF, in quoted-printable (RFC 2045 section 6.7):
// ASCII, lines of at most 76 characters that end with CRLF. Pure.
[[nodiscard]] std::string QuotedPrintable(const std::string& text);

}  // namespace turnstone
