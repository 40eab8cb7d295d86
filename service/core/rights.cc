#include "service/core/rights.h"

#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <string>
#include <vector>

namespace turnstone {
namespace {

std::string RolesThatMay(v1::Right right, const Site& site) {
  std::vector<std::string> roles;
  for (const v1::Role& role : site.config.role()) {
    if (site.team.May(role.id(), right)) roles.push_back(role.id());
  }
  return absl::StrJoin(roles, ", ");
}

}  // namespace

absl::Status CheckMay(const v1::Actor& by, v1::Right right,
                      const std::string& what, const Site& site) {
  const v1::Person* const person = site.team.FindPerson(by.name());
  if (person == nullptr && site.team.FindRole(by.role()) != nullptr) {
    return absl::PermissionDeniedError(
        absl::StrCat(by.name(), " is not one of the people of ",
                     site.config.id(), "; known there as ", by.role(), ": ",
                     absl::StrJoin(site.team.PeopleOf(by.role()), ", ")));
  }
  if (person != nullptr && person->role() != by.role()) {
    return absl::PermissionDeniedError(absl::StrCat(
        by.name(), " is ", person->role(), " at ", site.config.id(), ", not ",
        by.role(), "; call in that role, or have the site's file changed"));
  }
  if (site.team.May(by.role(), right)) return absl::OkStatus();
  return absl::PermissionDeniedError(absl::StrCat(
      "at ", site.config.id(), " the role ", by.role(), " may not ", what,
      "; these may: ", RolesThatMay(right, site)));
}

absl::Status CheckMay(const Caller& caller, v1::Right right,
                      const std::string& what, const Site& site) {
  if (caller.sites.Covers(site.config.id())) {
    return CheckMay(caller.by, right, what, site);
  }
  return absl::PermissionDeniedError(
      absl::StrCat(caller.by.name(), " is not known at ", site.config.id(),
                   " as one who may ", what,
                   ", which it takes; these may: ", RolesThatMay(right, site)));
}

}  // namespace turnstone
