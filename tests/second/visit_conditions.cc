// Conditions on visits.
#include <set>
#include <string>

#include "tests/second/asked.h"

namespace turnstone::second {
namespace {

bool IsAttended(const Fact& fact) {
  return fact.event->visit_outcome().outcome() ==
         v1::VISIT_OUTCOME_KIND_ATTENDED;
}

bool IsMissed(const Fact& fact) {
  const v1::VisitOutcomeKind outcome = fact.event->visit_outcome().outcome();
  return outcome == v1::VISIT_OUTCOME_KIND_NO_ANSWER ||
         outcome == v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR;
}

// Two reports of one visit are one visit.
v1::Truth MissedSoOften(const v1::MissedInARow& missed, const Asked& asked) {
  std::set<std::string> row;
  for (const Fact* fact : UpToSubject(asked)) {
    if (!fact->event->has_visit_outcome()) continue;
    if (IsAttended(*fact)) row.clear();
    if (IsMissed(*fact)) row.insert(fact->event->visit_outcome().visit());
  }
  return Say(static_cast<int>(row.size()) >= missed.at_least().value());
}

// Visits attended up to `last`, without those of an earlier programme. A
// programme ends with a discharge, whether its enrolment is on record or not,
// and not with another enrolment (rules/engine/view.h; the proto leaves out
// visits "of an earlier enrolment").
int Attended(const Asked& asked, absl::Time last) {
  absl::Time ended = absl::InfinitePast();
  const Fact* enrolment = LastEnrolment(asked);
  for (const Fact* fact : InSight(asked)) {
    if (enrolment == nullptr || fact->when > enrolment->when) break;
    if (fact->event->has_discharge()) ended = fact->when;
  }
  std::set<std::string> visits;
  for (const Fact* fact : InSight(asked)) {
    if (IsAttended(*fact) && ended < fact->when && fact->when <= last) {
      visits.insert(fact->event->visit_outcome().visit());
    }
  }
  return static_cast<int>(visits.size());
}

int PlannedVisits(const Asked& asked) {
  const Fact* enrolment = LastEnrolment(asked);
  if (enrolment == nullptr ||
      !enrolment->event->enrolment().has_planned_visits()) {
    return asked.world.site.planned_visits();
  }
  return enrolment->event->enrolment().planned_visits();
}

v1::Truth AttendedSoMany(const v1::AttendedVisits& attended,
                         const Asked& asked) {
  const absl::Time last =
      attended.by_asking() ? asked.moment : asked.subject().when;
  const int wanted = attended.has_at_least() ? attended.at_least().value()
                                             : PlannedVisits(asked);
  return Say(Attended(asked, last) >= wanted);
}

// An outcome from before the plan does not count for it; of two plans of one
// moment the second in the order of facts moves the visit. That a visit planned
// after a discharge falls away, too, are README's words: "nor was the
// participant discharged".
v1::Truth IsAccountedFor(const Asked& asked) {
  const Fact* turn = LastTurn(asked);
  if (turn != nullptr && turn->event->has_discharge()) return v1::TRUTH_TRUE;
  const Fact& plan = asked.subject();
  const std::string& visit = plan.event->visit_planned().visit();
  bool later = false;
  for (const Fact* fact : InSight(asked)) {
    if (fact->when < plan.when) continue;
    if (fact->event->has_visit_outcome() &&
        fact->event->visit_outcome().visit() == visit) {
      return v1::TRUTH_TRUE;
    }
    if (later && fact->event->has_visit_planned() &&
        fact->event->visit_planned().visit() == visit) {
      return v1::TRUTH_TRUE;
    }
    later = later || fact == &plan;
  }
  return v1::TRUTH_FALSE;
}

}  // namespace

std::optional<v1::Truth> OfTheVisits(const v1::Condition& condition,
                                     const Asked& asked) {
  switch (condition.kind_case()) {
    case v1::Condition::kMissedInARow:
      return MissedSoOften(condition.missed_in_a_row(), asked);
    case v1::Condition::kAttendedVisits:
      return AttendedSoMany(condition.attended_visits(), asked);
    case v1::Condition::kVisitAccountedFor:
      return IsAccountedFor(asked);
    default:
      return std::nullopt;
  }
}

}  // namespace turnstone::second
