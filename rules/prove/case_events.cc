#include "rules/prove/case_events.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include "rules/measure/proto_time.h"
#include "rules/measure/work_calendar.h"

namespace turnstone {
namespace {

// Ids of participants hold 64 characters; "-2" follows.
constexpr size_t kMostOfId = 60;
constexpr char kSource[] = "urn:turnstone:prove:";

}  // namespace

CaseEvents::CaseEvents(const Site& site, const std::string& id)
    : site_(site.config.id()),
      id_(id.substr(0, kMostOfId)),
      start_(LocalToAbsolute(absl::CivilSecond(2025, 1, 6, 12),
                             site.calendar.zone())) {}

absl::Time CaseEvents::Week(int week) const {
  return start_ + absl::Hours(7 * 24) * week;
}

v1::Event CaseEvents::Bare(const std::string& id, absl::Time when,
                           int person) const {
  v1::Event event;
  event.set_source(absl::StrCat(kSource, site_));
  event.set_event_id(absl::StrCat(id_, ".", person, ".", id));
  event.set_site(site_);
  event.set_participant(absl::StrCat(id_, "-", person));
  *event.mutable_effective_time() = ToProto(when);
  return event;
}

v1::Event CaseEvents::Form(const v1::ScreeningResult& form, int week,
                           int person) const {
  v1::Event event = Bare(absl::StrCat("form-", week + 1), Week(week), person);
  *event.mutable_screening_result() = form;
  return event;
}

v1::Event CaseEvents::Outcome(v1::VisitOutcomeKind outcome, int week) const {
  v1::Event event = Bare(absl::StrCat("outcome-", week + 1), Week(week), 1);
  event.mutable_visit_outcome()->set_visit(absl::StrCat("visit-", week + 1));
  event.mutable_visit_outcome()->set_outcome(outcome);
  return event;
}

v1::Event CaseEvents::Enrolment(int week, int person) const {
  v1::Event event = Bare("enrolment", Week(week) - absl::Hours(24), person);
  event.mutable_enrolment();
  return event;
}

}  // namespace turnstone
