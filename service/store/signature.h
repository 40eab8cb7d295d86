// Ed25519 signatures (RFC 8032), with keys as "openssl genpkey -algorithm
// ed25519" makes them.
#pragma once

#include <absl/status/statusor.h>

#include <cstddef>
#include <memory>
#include <string>

struct evp_pkey_st;

namespace turnstone {

inline constexpr size_t kSignatureBytes = 64;  // RFC 8032, section 5.1

// Immutable; safe to share. Its errors never tell anything of the key.
class SigningKey {
 public:
  // INVALID_ARGUMENT, saying how to make one, unless `pem` is an Ed25519
  // private key without a passphrase.
  [[nodiscard]] static absl::StatusOr<SigningKey> FromPem(
      const std::string& pem);
  // kSignatureBytes. INTERNAL if OpenSSL fails.
  [[nodiscard]] absl::StatusOr<std::string> Sign(const std::string& text) const;

 private:
  explicit SigningKey(std::shared_ptr<evp_pkey_st> key)
      : key_(std::move(key)) {}
  std::shared_ptr<evp_pkey_st> key_;
};

// Immutable; safe to share.
class PublicKey {
 public:
  // INVALID_ARGUMENT unless `pem` is an Ed25519 public key.
  [[nodiscard]] static absl::StatusOr<PublicKey> FromPem(
      const std::string& pem);
  // INVALID_ARGUMENT unless it is 32 bytes.
  [[nodiscard]] static absl::StatusOr<PublicKey> FromBytes(
      const std::string& bytes);
  // Whether the key's owner has signed the text.
  [[nodiscard]] bool Signed(const std::string& text,
                            const std::string& signature) const;

 private:
  explicit PublicKey(std::shared_ptr<evp_pkey_st> key) : key_(std::move(key)) {}
  std::shared_ptr<evp_pkey_st> key_;
};

}  // namespace turnstone
