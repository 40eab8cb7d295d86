// HTTP Message Signatures (RFC 9421) by hmac-sha256, and Content-Digest
// (RFC 9530). Everything here is pure.
#pragma once

#include <string>
#include <vector>

namespace turnstone {

// A covered component without parameters: {"@method", "POST"}. Header fields
// go by their name in lower case.
struct SignedComponent {
  std::string name;
  std::string value;
};

// The value of Content-Digest: "sha-256=:...:".
[[nodiscard]] std::string ContentDigest(const std::string& body);

// A string as structured fields write it (RFC 8941 section 3.3.3): "\"abc\"".
// REQUIRES: printable ASCII only.
[[nodiscard]] std::string QuotedString(const std::string& text);

// What stands after "label=" in Signature-Input, and in the last line of the
// base: ("date" "@authority");created=1618884473. `parameters` begins with ";"
// or is empty.
[[nodiscard]] std::string SignatureInput(
    const std::vector<SignedComponent>& components,
    const std::string& parameters);

// The text that is signed (RFC 9421 section 2.5).
[[nodiscard]] std::string SignatureBase(
    const std::vector<SignedComponent>& components,
    const std::string& parameters);

// The signature of `base`, in base64.
[[nodiscard]] std::string Sign(const std::string& secret,
                               const std::string& base);

}  // namespace turnstone
