// Texts that go into mail headers and web requests: nothing in them may be read
// as something else there.
#pragma once

#include <string>

namespace turnstone {

// "name@host": printable ASCII, no space, and none of the characters that mean
// something in a header (RFC 5322 section 3.2.3).
[[nodiscard]] bool IsMailAddress(const std::string& text);
// One or more letters, digits, dots and hyphens.
[[nodiscard]] bool IsHost(const std::string& text);
// The same; after it there may be a colon and a port.
[[nodiscard]] bool IsHostAndPort(const std::string& text);
// Printable ASCII without slashes that does not begin with a dot.
[[nodiscard]] bool IsFileName(const std::string& text);
// 1 to 100 printable ASCII characters, no space, quote or backslash.
[[nodiscard]] bool IsKeyId(const std::string& text);
// 1 to 100 printable ASCII characters without comma or slash, no space at
// either end.
[[nodiscard]] bool IsPersonId(const std::string& text);

}  // namespace turnstone
