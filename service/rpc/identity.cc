#include "service/rpc/identity.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>
#include <array>
#include <string>

namespace turnstone {
namespace {

constexpr std::array kRoles = {"intake-system", "clinician",      "supervisor",
                               "on-call-lead",  "programme-lead", "operator",
                               "auditor"};
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

}  // namespace

absl::StatusOr<v1::Actor> DecideCaller(const grpc::ServerContextBase& context) {
  v1::Actor actor;
  actor.set_name(Metadata(context, "turnstone-name"));
  actor.set_role(Metadata(context, "turnstone-role"));
  actor.set_identity("as stated");
  const bool known =
      std::any_of(kRoles.begin(), kRoles.end(),
                  [&](const char* role) { return actor.role() == role; });
  if (actor.name().empty() || actor.name().size() > kNameBytesMax ||
      !IsPrintable(actor.name()) || !known) {
    return absl::UnauthenticatedError(absl::StrCat(
        "say who you are: metadata turnstone-name (1 to ", kNameBytesMax,
        " printable characters) and turnstone-role (one of ",
        absl::StrJoin(kRoles, ", "), ")"));
  }
  return actor;
}

}  // namespace turnstone
