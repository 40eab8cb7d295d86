#include "service/rpc/identity.h"

#include <absl/strings/str_cat.h>
#include <grpc/grpc_security_constants.h>

#include <algorithm>
#include <string>
#include <utility>

namespace turnstone {
namespace {

constexpr size_t kNameBytesMax = 100;

std::string Metadata(const grpc::ServerContextBase& context,
                     const std::string& key) {
  const auto found = context.client_metadata().find(key);
  if (found == context.client_metadata().end()) return "";
  return {found->second.data(), found->second.size()};
}

bool IsPrintable(const std::string& text) {
  return std::all_of(text.begin(), text.end(),
                     [](char c) { return c >= ' ' && c <= '~'; });
}

// Lower-case letters, digits and hyphens: which roles there are is the site's
// to say.
bool IsRole(const std::string& text) {
  return !text.empty() && text.size() <= kNameBytesMax &&
         std::all_of(text.begin(), text.end(), [](char c) {
           return ('a' <= c && c <= 'z') || ('0' <= c && c <= '9') || c == '-';
         });
}

// Empty where nothing is encrypted.
std::string Protection(const grpc::AuthContext& connection) {
  const auto found =
      connection.FindPropertyValues(GRPC_TRANSPORT_SECURITY_TYPE_PROPERTY_NAME);
  if (found.empty()) return "";
  const std::string type(found[0].data(), found[0].size());
  return type == "insecure" ? "" : type;
}

absl::StatusOr<Presented> ByCertificate(const grpc::AuthContext& connection,
                                        std::string role) {
  const auto uris = connection.FindPropertyValues(GRPC_PEER_URI_PROPERTY_NAME);
  if (uris.size() != 1 || uris[0].empty()) {
    return absl::UnauthenticatedError(
        "your certificate does not say who you are: it must have exactly one "
        "URI in its subjectAltName, the one that your site's file has");
  }
  if (!role.empty() && !IsRole(role)) {
    return absl::UnauthenticatedError(
        "metadata turnstone-role is no role; leave it out, or write one that "
        "you have in your site's file, e.g. clinician");
  }
  return Presented{std::string(uris[0].data(), uris[0].size()), "",
                   std::move(role)};
}

}  // namespace

absl::StatusOr<Presented> WhoCalls(const grpc::ServerContextBase& context) {
  std::string role = Metadata(context, "turnstone-role");
  const auto connection = context.auth_context();
  if (connection != nullptr && !Protection(*connection).empty()) {
    return ByCertificate(*connection, std::move(role));
  }
  std::string name = Metadata(context, "turnstone-name");
  if (name.empty() || name.size() > kNameBytesMax || !IsPrintable(name) ||
      !IsRole(role)) {
    return absl::UnauthenticatedError(absl::StrCat(
        "say who you are: metadata turnstone-name (1 to ", kNameBytesMax,
        " printable characters) and turnstone-role (a role of the site, e.g. "
        "clinician; or intake-system)"));
  }
  return Presented{"", std::move(name), std::move(role)};
}

}  // namespace turnstone
