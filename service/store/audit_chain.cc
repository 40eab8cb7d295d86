#include "service/store/audit_chain.h"

#include <openssl/evp.h>

#include <array>
#include <cstdlib>
#include <memory>

namespace turnstone {
namespace {

constexpr size_t kDigestBytes = 32;

struct FreeContext {
  void operator()(EVP_MD_CTX* context) const { EVP_MD_CTX_free(context); }
};

// Making a context costs more than most of what is hashed here.
EVP_MD_CTX* KeptContext() {
  thread_local const std::unique_ptr<EVP_MD_CTX, FreeContext> context(
      EVP_MD_CTX_new());
  return context.get();
}

std::string Sha256Of(const std::string& bytes) {
  static const EVP_MD* const sha256 = EVP_MD_fetch(nullptr, "SHA256", nullptr);
  EVP_MD_CTX* const context = KeptContext();
  std::array<unsigned char, kDigestBytes> digest{};
  const bool done =
      EVP_DigestInit_ex2(context, sha256, nullptr) == 1 &&
      EVP_DigestUpdate(context, bytes.data(), bytes.size()) == 1 &&
      EVP_DigestFinal_ex(context, digest.data(), nullptr) == 1;
  // Without memory or without SHA-256: nothing that could be kept is right.
  if (!done) std::abort();
  return {digest.begin(), digest.end()};
}

void AddNumber(uint64_t number, std::string& bytes) {
  for (int shift = 56; shift >= 0; shift -= 8) {
    bytes.push_back(static_cast<char>((number >> shift) & 0xff));
  }
}

void AddText(const std::string& text, std::string& bytes) {
  AddNumber(text.size(), bytes);
  bytes += text;
}

}  // namespace

const std::string& ChainBegin() {
  static const auto& begin = *new std::string(kDigestBytes, '\0');
  return begin;
}

std::string SealOf(const AuditRow& row) {
  std::string bytes;
  AddText("turnstone audit seal 1", bytes);
  AddText(row.salt, bytes);
  AddText(row.participant, bytes);
  AddText(row.detail, bytes);
  return Sha256Of(bytes);
}

std::string ChainAfter(const std::string& before, const AuditRow& row) {
  std::string bytes;
  AddText("turnstone audit record 1", bytes);
  AddText(before, bytes);
  AddNumber(static_cast<uint64_t>(row.sequence), bytes);
  AddNumber(static_cast<uint64_t>(row.at), bytes);
  AddText(row.actor, bytes);
  AddText(row.action, bytes);
  AddText(row.subject, bytes);
  AddText(row.site, bytes);
  AddText(row.emptied, bytes);
  AddText(row.sealed ? *row.sealed : SealOf(row), bytes);
  return Sha256Of(bytes);
}

}  // namespace turnstone
