// Digests, as raw bytes.
#pragma once

#include <string>

namespace turnstone {

// SHA-256 (FIPS 180-4), 32 bytes. Pure.
[[nodiscard]] std::string Sha256(const std::string& text);

// HMAC with SHA-256 (RFC 2104), 32 bytes. Pure.
[[nodiscard]] std::string HmacSha256(const std::string& secret,
                                     const std::string& text);

}  // namespace turnstone
