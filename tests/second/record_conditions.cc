// Conditions on the record: enrolment, visits, contacts, earlier forms.
#include <algorithm>
#include <set>

#include "tests/second/asked.h"
#include "tests/second/days.h"

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

// The last enrolment or discharge; null if there is neither. Of both at one
// moment the enrolment: nobody is lost from sight by how two events are named
// (the proto is silent).
const Fact* LastTurn(const Asked& asked) {
  const Fact* last = nullptr;
  for (const Fact* fact : InSight(asked)) {
    if (fact->event->has_enrolment()) last = fact;
    if (!fact->event->has_discharge()) continue;
    const bool tie = last != nullptr && last->event->has_enrolment() &&
                     last->when == fact->when;
    if (!tie) last = fact;
  }
  return last;
}

v1::Truth IsDischargedAs(const v1::DischargedAs& discharged, const Fact* last) {
  if (last == nullptr || !last->event->has_discharge()) {
    return v1::TRUTH_FALSE;
  }
  const auto& reasons = discharged.reason();
  return Say(std::count(reasons.begin(), reasons.end(),
                        last->event->discharge().reason()) > 0);
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

// The last enrolment; null if there is none.
const Fact* LastEnrolment(const Asked& asked) {
  const Fact* last = nullptr;
  for (const Fact* fact : InSight(asked)) {
    if (fact->event->has_enrolment()) last = fact;
  }
  return last;
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
v1::Truth IsAccountedFor(const Asked& asked, const Fact* turn) {
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

// "Within the last 365 days", as README puts it: back from the moment of the
// question. Days of 24 hours, since nothing is said of the site's midnight as
// it is of ScreenedWithin.
v1::Truth HarmWithin(const v1::SelfHarmEarlier& earlier, const Asked& asked) {
  const absl::Time first =
      asked.moment - absl::Hours(24 * earlier.within_days().value());
  v1::Truth answer = v1::TRUTH_FALSE;
  for (const Fact* fact : InSight(asked)) {
    if (!fact->form || fact->when < first) continue;
    const Form& form = *fact->form;
    if (form.result_is_self_harm) return v1::TRUTH_TRUE;
    if (!form.self_harm_item) continue;
    const std::optional<int>& points = form.points[*form.self_harm_item];
    if (points && *points >= 1) return v1::TRUTH_TRUE;
    if (!points) answer = v1::TRUTH_UNKNOWN;
  }
  return answer;
}

v1::Truth WasScreened(const v1::ScreenedWithin& within, const Asked& asked) {
  const Fact& subject = asked.subject();
  const absl::Time from = DayBegins(
      asked.world, within.before_asking() ? asked.moment : subject.when,
      within.days().value());
  bool later = false;
  for (const Fact* fact : InSight(asked)) {
    later = later || fact == &subject;
    if (fact == &subject || !fact->form || !fact->form->done) continue;
    const std::string& instrument = fact->form->instrument;
    const auto& named = within.instrument();
    if (std::count(named.begin(), named.end(), instrument) == 0) continue;
    const bool same = subject.form && subject.form->instrument == instrument;
    const bool since = later || (fact->when == subject.when && !same);
    if (within.since() ? since : fact->when >= from) return v1::TRUTH_TRUE;
  }
  return v1::TRUTH_FALSE;
}

// After it in the order of facts, so that of two at one moment one counts.
v1::Truth ContactAfter(const Asked& asked) {
  bool later = false;
  for (const Fact* fact : InSight(asked)) {
    if (later && ShowsContact(*fact)) return v1::TRUTH_TRUE;
    later = later || fact == &asked.subject();
  }
  return v1::TRUTH_FALSE;
}

v1::Truth Doubts(const v1::ConfidenceBelow& below, const Asked& asked) {
  const v1::PracticeReport& report = asked.subject().event->practice_report();
  if (!report.has_confidence()) return v1::TRUTH_UNKNOWN;
  return Say(report.confidence() < below.percent().value());
}

}  // namespace

std::optional<v1::Truth> OfTheRecord(const v1::Condition& condition,
                                     const Asked& asked) {
  const Fact* turn = LastTurn(asked);
  switch (condition.kind_case()) {
    case v1::Condition::kEnrolled:
      return Say(turn != nullptr && turn->event->has_enrolment());
    case v1::Condition::kDischargedAs:
      return IsDischargedAs(condition.discharged_as(), turn);
    case v1::Condition::kMissedInARow:
      return MissedSoOften(condition.missed_in_a_row(), asked);
    case v1::Condition::kAttendedVisits:
      return AttendedSoMany(condition.attended_visits(), asked);
    case v1::Condition::kVisitAccountedFor:
      return IsAccountedFor(asked, turn);
    case v1::Condition::kSelfHarmEarlier:
      return HarmWithin(condition.self_harm_earlier(), asked);
    case v1::Condition::kScreenedWithin:
      return WasScreened(condition.screened_within(), asked);
    case v1::Condition::kContactSince:
      return ContactAfter(asked);
    case v1::Condition::kConfidenceBelow:
      return Doubts(condition.confidence_below(), asked);
    default:
      return std::nullopt;
  }
}

}  // namespace turnstone::second
