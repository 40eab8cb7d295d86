#include "service/core/caller.h"

#include <absl/strings/ascii.h>
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>
#include <absl/strings/str_replace.h>

#include <algorithm>
#include <set>
#include <utility>
#include <vector>

namespace turnstone {
namespace {

// As whom a site knows the caller.
struct Known {
  const Site* site;
  std::string id;
  std::string role;
};

bool IsOfKind(const std::string& role, v1::CallerKind kind, const Team& team) {
  const auto may = [&](v1::Right right) { return team.May(role, right); };
  switch (kind) {
    case v1::INTAKE_SYSTEM:
      return role == kIntakeSystem;
    case v1::CLINICIAN:
      return may(v1::WORK) || may(v1::CLOSE_LATCHED);
    case v1::ON_CALL_LEAD:
      return may(v1::CANCEL) || may(v1::CONFIRM) || may(v1::HAND_OVER);
    case v1::PROGRAMME_LEAD:
      return may(v1::ACTIVATE_RULES);
    case v1::OPERATOR:
      return role == kOperator || may(v1::BACK_UP) || may(v1::ERASE);
    case v1::AUDITOR:
      return role == kAuditor;
    default:
      return false;
  }
}

bool IsSystemRole(const std::string& role) {
  return role == kIntakeSystem || role == kOperator || role == kAuditor;
}

// "on-call lead".
std::string InWords(v1::CallerKind kind) {
  std::string words = absl::AsciiStrToLower(v1::CallerKind_Name(kind));
  return absl::StrReplaceAll(words, {{"on_call", "on-call"}, {"_", " "}});
}

template <typename Entries>
void AddHolders(const Entries& entries, const std::string& uri,
                const Site& site, std::vector<Known>& known) {
  for (const auto& entry : entries) {
    const auto& uris = entry.certificate_uri();
    if (std::find(uris.begin(), uris.end(), uri) == uris.end()) continue;
    known.push_back({&site, entry.id(), entry.role()});
  }
}

std::vector<Known> KnownByCertificate(const std::string& uri,
                                      const Setup& setup) {
  std::vector<Known> known;
  for (const auto& [id, site] : setup.sites()) {
    AddHolders(site.config.person(), uri, site, known);
    AddHolders(site.config.system(), uri, site, known);
  }
  return known;
}

// In plain mode: whom a site lists, it knows in that role only; of others it
// believes the role, if there is such a one.
std::vector<Known> KnownAsStated(const Presented& who, const Setup& setup) {
  std::vector<Known> known;
  for (const auto& [id, site] : setup.sites()) {
    const Team& team = site.team;
    if (const v1::Person* person = team.FindPerson(who.name)) {
      known.push_back({&site, who.name, person->role()});
    } else if (const v1::System* system = team.FindSystem(who.name)) {
      known.push_back({&site, who.name, system->role()});
    } else if (IsSystemRole(who.role) || team.FindRole(who.role) != nullptr) {
      known.push_back({&site, who.name, who.role});
    }
  }
  return known;
}

absl::Status NobodyKnows(const Presented& who) {
  if (who.certificate_uri.empty()) {
    return absl::PermissionDeniedError(
        absl::StrCat("no site has the role ", who.role,
                     "; call in a role of your site's file"));
  }
  return absl::PermissionDeniedError(absl::StrCat(
      "no site's file has the certificate of ", who.certificate_uri,
      "; have it written there, as certificate_uri of a person or a system"));
}

absl::Status OtherRole(const Known& known, const std::string& role) {
  return absl::PermissionDeniedError(absl::StrCat(
      known.id, " is ", known.role, " at ", known.site->config.id(), ", not ",
      role, "; call in that role, or have the site's file changed"));
}

// Leaves those in the role in which the call is made.
absl::Status TakeRole(const std::string& stated, std::vector<Known>& known) {
  const Known first = known.front();
  if (stated.empty()) {
    std::set<std::string> roles;
    for (const Known& one : known) roles.insert(one.role);
    if (roles.size() == 1) return absl::OkStatus();
    return absl::UnauthenticatedError(
        absl::StrCat(first.id,
                     " has more than one role: say in metadata turnstone-role "
                     "which of them you call in: ",
                     absl::StrJoin(roles, ", ")));
  }
  std::erase_if(known, [&](const Known& one) { return one.role != stated; });
  return known.empty() ? OtherRole(first, stated) : absl::OkStatus();
}

absl::Status NotOfKind(const Known& known, const v1::Access& access) {
  std::vector<std::string> kinds;
  for (const int kind : access.kind()) {
    kinds.push_back(InWords(static_cast<v1::CallerKind>(kind)));
  }
  return absl::PermissionDeniedError(absl::StrCat(
      "the role ", known.role,
      " may not call this; these may: ", absl::StrJoin(kinds, ", "),
      ". By the rights of your role your site's file says which you are"));
}

}  // namespace

absl::StatusOr<Caller> Admit(const Presented& who, const v1::Access& access,
                             const Setup& setup) {
  const bool proven = !who.certificate_uri.empty();
  std::vector<Known> known =
      proven ? KnownByCertificate(who.certificate_uri, setup)
             : KnownAsStated(who, setup);
  if (known.empty()) return NobodyKnows(who);
  if (absl::Status status = TakeRole(who.role, known); !status.ok()) {
    return status;
  }
  const auto& kinds = access.kind();
  std::set<std::string> sites;
  for (const Known& one : known) {
    const bool fits = std::any_of(kinds.begin(), kinds.end(), [&](int kind) {
      return IsOfKind(one.role, static_cast<v1::CallerKind>(kind),
                      one.site->team);
    });
    if (fits) sites.insert(one.site->config.id());
  }
  if (sites.empty()) return NotOfKind(known.front(), access);
  Caller caller{{}, SiteScope(std::move(sites))};
  caller.by.set_name(known.front().id);
  caller.by.set_role(known.front().role);
  caller.by.set_identity(proven ? "certificate" : "as stated");
  return caller;
}

}  // namespace turnstone
