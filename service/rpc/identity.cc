#include "service/rpc/identity.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <string>

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

}  // namespace

absl::StatusOr<v1::Actor> DecideCaller(const grpc::ServerContextBase& context) {
  v1::Actor actor;
  actor.set_name(Metadata(context, "turnstone-name"));
  actor.set_role(Metadata(context, "turnstone-role"));
  actor.set_identity("as stated");
  if (actor.name().empty() || actor.name().size() > kNameBytesMax ||
      !IsPrintable(actor.name()) || !IsRole(actor.role())) {
    return absl::UnauthenticatedError(absl::StrCat(
        "say who you are: metadata turnstone-name (1 to ", kNameBytesMax,
        " printable characters) and turnstone-role (a role of the site, e.g. "
        "clinician; or intake-system)"));
  }
  return actor;
}

}  // namespace turnstone
