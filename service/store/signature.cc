#include "service/store/signature.h"

#include <openssl/bio.h>
#include <openssl/evp.h>
#include <openssl/pem.h>

#include <array>

namespace turnstone {
namespace {

using Key = std::shared_ptr<EVP_PKEY>;

const unsigned char* Bytes(const std::string& text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}

std::shared_ptr<EVP_MD_CTX> NewContext() {
  return {EVP_MD_CTX_new(), &EVP_MD_CTX_free};
}

// A key with a passphrase is refused rather than asked for at a terminal.
int NoPassphrase(char* /*buffer*/, int /*size*/, int /*writing*/,
                 void* /*user*/) {
  return 0;
}

Key ReadPem(const std::string& pem,
            EVP_PKEY* (*read)(BIO*, EVP_PKEY**, pem_password_cb*, void*)) {
  const std::unique_ptr<BIO, decltype(&BIO_free)> text(
      BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())), &BIO_free);
  Key key(read(text.get(), nullptr, &NoPassphrase, nullptr), &EVP_PKEY_free);
  if (key == nullptr || EVP_PKEY_get_base_id(key.get()) != EVP_PKEY_ED25519) {
    return nullptr;
  }
  return key;
}

}  // namespace

absl::StatusOr<SigningKey> SigningKey::FromPem(const std::string& pem) {
  Key key = ReadPem(pem, &PEM_read_bio_PrivateKey);
  if (key != nullptr) return SigningKey(std::move(key));
  return absl::InvalidArgumentError(
      "it is no Ed25519 private key without a passphrase; make one with: "
      "openssl genpkey -algorithm ed25519 -out FILE");
}

absl::StatusOr<std::string> SigningKey::Sign(const std::string& text) const {
  const std::shared_ptr<EVP_MD_CTX> context = NewContext();
  std::array<unsigned char, kSignatureBytes> signature{};
  size_t size = signature.size();
  if (EVP_DigestSignInit(context.get(), nullptr, nullptr, nullptr,
                         key_.get()) == 1 &&
      EVP_DigestSign(context.get(), signature.data(), &size, Bytes(text),
                     text.size()) == 1) {
    return std::string(signature.begin(), signature.end());
  }
  return absl::InternalError("OpenSSL could not sign");
}

absl::StatusOr<PublicKey> PublicKey::FromPem(const std::string& pem) {
  Key key = ReadPem(pem, &PEM_read_bio_PUBKEY);
  if (key != nullptr) return PublicKey(std::move(key));
  return absl::InvalidArgumentError(
      "it is no Ed25519 public key; make it from the private one with: openssl "
      "pkey -in PRIVATE -pubout -out FILE");
}

absl::StatusOr<PublicKey> PublicKey::FromBytes(const std::string& bytes) {
  Key key(EVP_PKEY_new_raw_public_key(EVP_PKEY_ED25519, nullptr, Bytes(bytes),
                                      bytes.size()),
          &EVP_PKEY_free);
  if (key != nullptr) return PublicKey(std::move(key));
  return absl::InvalidArgumentError("an Ed25519 public key has 32 bytes");
}

bool PublicKey::Signed(const std::string& text,
                       const std::string& signature) const {
  const std::shared_ptr<EVP_MD_CTX> context = NewContext();
  return EVP_DigestVerifyInit(context.get(), nullptr, nullptr, nullptr,
                              key_.get()) == 1 &&
         EVP_DigestVerify(context.get(), Bytes(signature), signature.size(),
                          Bytes(text), text.size()) == 1;
}

}  // namespace turnstone
