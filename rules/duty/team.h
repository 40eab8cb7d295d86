// The people of a site: who they are, what their role allows, who is on duty,
// and which ladder an alert climbs.
#pragma once

#include <absl/time/time.h>

#include <map>
#include <string>
#include <vector>

#include "rules/duty/rota.h"
#include "turnstone/v1/site.pb.h"

namespace turnstone {

// The role whose people visit participants.
inline constexpr char kClinician[] = "clinician";
// The roles of systems.
inline constexpr char kIntakeSystem[] = "intake-system";
inline constexpr char kOperator[] = "operator";
inline constexpr char kAuditor[] = "auditor";

// Immutable; safe to share.
class Team {
 public:
  // REQUIRES: `site` passed the checks of rules/check.
  Team(const v1::SiteConfig& site, absl::TimeZone zone);

  // Null if the site has no such role, person, system, channel, or rota.
  [[nodiscard]] const v1::Role* FindRole(const std::string& id) const;
  [[nodiscard]] const v1::Person* FindPerson(const std::string& id) const;
  [[nodiscard]] const v1::System* FindSystem(const std::string& id) const;
  [[nodiscard]] const v1::Channel* FindChannel(const std::string& id) const;
  [[nodiscard]] const Rota* FindRota(const std::string& role) const;

  // A site's role, or that of a system.
  [[nodiscard]] bool May(const std::string& role, v1::Right right) const;
  // Ids, in the order of the file.
  [[nodiscard]] std::vector<std::string> PeopleOf(
      const std::string& role) const;
  // Roles with a rota, in the order of the file.
  [[nodiscard]] const std::vector<Rota>& rotas() const { return rotas_; }

  // The one ladder for alerts of that kind and priority.
  [[nodiscard]] const v1::Ladder& LadderFor(v1::AlertKind kind,
                                            v1::Priority priority) const;

 private:
  v1::SiteConfig site_;
  std::vector<Rota> rotas_;
};

}  // namespace turnstone
