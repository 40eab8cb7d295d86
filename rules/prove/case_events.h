// Events of invented people, as the service would accept them.
#pragma once

#include <absl/time/time.h>

#include <string>

#include "rules/engine/setup.h"
#include "turnstone/v1/event.pb.h"

namespace turnstone {

// Makes the events of one property's cases at one site. The weeks begin on
// Monday 6 January 2025 at noon, site's zone: long enough ago for a service to
// accept every event, and so far from midnight that no clock change moves one
// to another day. Immutable.
class CaseEvents {
 public:
  // `id`: of the property; part of the events' and participants' ids.
  CaseEvents(const Site& site, const std::string& id);

  // `person`: 1 or 2, where a case has two participants.
  // `week`: 0 to 51; events of one week happen at the same moment.
  [[nodiscard]] v1::Event Form(const v1::ScreeningResult& form, int week,
                               int person = 1) const;
  [[nodiscard]] v1::Event Outcome(v1::VisitOutcomeKind outcome, int week) const;
  // A day before the event of that week.
  [[nodiscard]] v1::Event Enrolment(int week, int person = 1) const;

 private:
  [[nodiscard]] v1::Event Bare(const std::string& id, absl::Time when,
                               int person) const;
  [[nodiscard]] absl::Time Week(int week) const;

  std::string site_;
  std::string id_;
  absl::Time start_;
};

}  // namespace turnstone
