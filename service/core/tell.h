// Whom a rung tells.
#pragma once

#include <absl/time/time.h>

#include <string>
#include <vector>

#include "service/core/escalation.h"

namespace turnstone {

struct Told {
  // Ids, each once. Empty only where the site has nobody who works alerts.
  std::vector<std::string> people;
  // Why others than meant are told; empty if they are not.
  std::string remark;
};

[[nodiscard]] Told PeopleFor(const v1::Rung& rung, absl::Time now,
                             const Around& around, const v1::Alert& alert);

// "the participant's clinician and whoever is on duty (on-call-lead)".
[[nodiscard]] std::string WhomInWords(const v1::Rung& rung,
                                      const v1::Alert& alert);

// Those of the site whose role has the right.
[[nodiscard]] std::vector<std::string> PeopleWhoMay(const Site& site,
                                                    v1::Right right);

// On duty by one of the site's rotas, in a role that has the right.
[[nodiscard]] std::vector<std::string> OnDutyWhoMay(v1::Right right,
                                                    absl::Time now,
                                                    const Around& around);

// Who is told while somebody is to confirm what `closer` has closed:
// those on duty who may, or else everybody who may.
[[nodiscard]] std::vector<std::string> SecondPersons(const std::string& closer,
                                                     absl::Time now,
                                                     const Around& around);

}  // namespace turnstone
