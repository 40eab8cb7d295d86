#include "service/deliver/http_signature.h"

#include <absl/strings/escaping.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include "service/core/digest.h"

namespace turnstone {

std::string ContentDigest(const std::string& body) {
  return absl::StrCat("sha-256=:", absl::Base64Escape(Sha256(body)), ":");
}

std::string QuotedString(const std::string& text) {
  std::string quoted = "\"";
  for (const char c : text) {
    if (c == '"' || c == '\\') quoted += '\\';
    quoted += c;
  }
  return quoted + "\"";
}

std::string SignatureInput(const std::vector<SignedComponent>& components,
                           const std::string& parameters) {
  const std::string names = absl::StrJoin(
      components, " ", [](std::string* out, const SignedComponent& component) {
        absl::StrAppend(out, QuotedString(component.name));
      });
  return absl::StrCat("(", names, ")", parameters);
}

std::string SignatureBase(const std::vector<SignedComponent>& components,
                          const std::string& parameters) {
  std::string base;
  for (const SignedComponent& component : components) {
    absl::StrAppend(&base, QuotedString(component.name), ": ", component.value,
                    "\n");
  }
  return absl::StrCat(
      base, "\"@signature-params\": ", SignatureInput(components, parameters));
}

std::string Sign(const std::string& secret, const std::string& base) {
  return absl::Base64Escape(HmacSha256(secret, base));
}

}  // namespace turnstone
