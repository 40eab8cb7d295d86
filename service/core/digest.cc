#include "service/core/digest.h"

#include <openssl/evp.h>
#include <openssl/hmac.h>
#include <openssl/sha.h>

#include <array>

namespace turnstone {
namespace {

using Bytes = std::array<unsigned char, SHA256_DIGEST_LENGTH>;

std::string ToString(const Bytes& bytes) {
  return {bytes.begin(), bytes.end()};
}

}  // namespace

std::string Sha256(const std::string& text) {
  Bytes digest{};
  SHA256(reinterpret_cast<const unsigned char*>(text.data()), text.size(),
         digest.data());
  return ToString(digest);
}

std::string HmacSha256(const std::string& secret, const std::string& text) {
  Bytes digest{};
  HMAC(EVP_sha256(), secret.data(), static_cast<int>(secret.size()),
       reinterpret_cast<const unsigned char*>(text.data()), text.size(),
       digest.data(), nullptr);
  return ToString(digest);
}

}  // namespace turnstone
