// What a site's file holds, for checks that reach from one of its parts to
// another.
#pragma once

#include <absl/strings/str_cat.h>

#include <map>
#include <set>
#include <string>

#include "rules/check/known.h"
#include "rules/check/require.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// By id. The site must outlive it.
struct Staff {
  std::map<std::string, const v1::Role*> roles;
  std::map<std::string, const v1::Person*> persons;
  std::map<std::string, const v1::Channel*> channels;
  std::set<std::string> roles_with_people;
  std::set<std::string> roles_with_rota;
  // Those whose rota has no gaps.
  std::set<std::string> roles_always_on_duty;
  // Those of whom somebody has a way to be reached; all with people where there
  // is no channel, so that everybody follows the alerts live.
  std::set<std::string> roles_reached;

  [[nodiscard]] bool May(const v1::Person& person, v1::Right right) const;
};

[[nodiscard]] Staff StaffOf(const v1::SiteConfig& site);

// What `name`, the value of `field` of the message at `place`, stands for. Null
// if it is missing or not in `known`; then that is reported. `what` it names:
// "role".
template <typename T>
const T* RequireKnown(const Place& place, const std::string& field,
                      const std::string& name, const std::string& what,
                      const std::map<std::string, const T*>& known) {
  if (!RequireText(place, field, absl::StrCat("the id of a ", what))) {
    return nullptr;
  }
  return Lookup(known, true, what, name, place.At(field));
}

}  // namespace turnstone
