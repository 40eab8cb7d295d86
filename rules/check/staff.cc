#include "rules/check/staff.h"

#include <algorithm>

namespace turnstone {

bool Staff::May(const v1::Person& person, v1::Right right) const {
  const auto role = roles.find(person.role());
  if (role == roles.end()) return false;
  const auto& may = role->second->may();
  return std::find(may.begin(), may.end(), right) != may.end();
}

Staff StaffOf(const v1::SiteConfig& site) {
  Staff staff;
  for (const v1::Role& role : site.role()) staff.roles[role.id()] = &role;
  for (const v1::Person& person : site.person()) {
    staff.persons[person.id()] = &person;
    staff.roles_with_people.insert(person.role());
    if (site.channel().empty() || !person.reach().empty()) {
      staff.roles_reached.insert(person.role());
    }
  }
  for (const v1::Channel& channel : site.channel()) {
    staff.channels[channel.id()] = &channel;
  }
  for (const v1::Rota& rota : site.rota()) {
    staff.roles_with_rota.insert(rota.role());
    if (!rota.gaps_because().empty()) continue;
    staff.roles_always_on_duty.insert(rota.role());
  }
  return staff;
}

}  // namespace turnstone
