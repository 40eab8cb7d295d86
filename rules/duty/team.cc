#include "rules/duty/team.h"

#include <algorithm>

#include "rules/duty/ladder.h"

namespace turnstone {
namespace {

// Null if none of `all` has that id.
template <typename Repeated>
auto FindById(const Repeated& all, const std::string& id) {
  const auto found = std::find_if(
      all.begin(), all.end(), [&](const auto& one) { return one.id() == id; });
  return found == all.end() ? nullptr : &*found;
}

template <typename Repeated>
bool Contains(const Repeated& all, int value) {
  return std::find(all.begin(), all.end(), value) != all.end();
}

}  // namespace

Team::Team(const v1::SiteConfig& site, absl::TimeZone zone) : site_(site) {
  for (const v1::Rota& rota : site.rota()) rotas_.emplace_back(rota, zone);
}

const v1::Role* Team::FindRole(const std::string& id) const {
  return FindById(site_.role(), id);
}

const v1::Person* Team::FindPerson(const std::string& id) const {
  return FindById(site_.person(), id);
}

const v1::System* Team::FindSystem(const std::string& id) const {
  return FindById(site_.system(), id);
}

const v1::Channel* Team::FindChannel(const std::string& id) const {
  return FindById(site_.channel(), id);
}

const Rota* Team::FindRota(const std::string& role) const {
  for (const Rota& rota : rotas_) {
    if (rota.role() == role) return &rota;
  }
  return nullptr;
}

bool Team::May(const std::string& role, v1::Right right) const {
  if (role == kOperator) return right == v1::BACK_UP;
  const v1::Role* found = FindRole(role);
  return found != nullptr && Contains(found->may(), right);
}

std::vector<std::string> Team::PeopleOf(const std::string& role) const {
  std::vector<std::string> ids;
  for (const v1::Person& person : site_.person()) {
    if (person.role() == role) ids.push_back(person.id());
  }
  return ids;
}

const v1::Ladder& Team::LadderFor(v1::AlertKind kind,
                                  v1::Priority priority) const {
  // One fits: see rules/check.
  const std::vector<int> fitting = FittingLadders(site_, kind, priority);
  return site_.ladder(fitting.empty() ? 0 : fitting.front());
}

}  // namespace turnstone
