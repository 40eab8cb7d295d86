#include "rules/examples/example_fact.h"

#include <absl/strings/str_cat.h>

#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

using MaybeError = std::optional<ExampleError>;

MaybeError NoChoice(const std::string& field, const std::string& such_as) {
  return ExampleError{absl::StrCat(field, " is missing"),
                      absl::StrCat("write ", field, ": ", such_as)};
}

MaybeError ReadPlan(const v1::ExamplePlan& plan, v1::VisitPlanned& planned) {
  if (plan.visit().empty()) return NoChoice("visit", "\"visit-1\"");
  if (!plan.has_start_day() || !InRange(plan.start_day(), kExampleDays)) {
    return OutOfRange("start_day", kExampleDays);
  }
  planned.set_visit(plan.visit());
  *planned.mutable_planned_start() = ToProto(ExampleTime(plan.start_day()));
  return std::nullopt;
}

MaybeError ReadVisit(const v1::ExampleVisit& visit, v1::VisitOutcome& outcome) {
  if (visit.visit().empty()) return NoChoice("visit", "\"visit-1\"");
  if (visit.outcome() == v1::VISIT_OUTCOME_KIND_UNSPECIFIED) {
    return NoChoice("outcome", "VISIT_OUTCOME_KIND_ATTENDED or another");
  }
  outcome.set_visit(visit.visit());
  outcome.set_outcome(visit.outcome());
  return std::nullopt;
}

MaybeError ReadPractice(const v1::ExamplePractice& practice,
                        v1::PracticeReport& report) {
  if (!practice.has_confidence()) return std::nullopt;
  report.set_confidence(practice.confidence());
  if (InRange(practice.confidence(), {0, 100})) return std::nullopt;
  return OutOfRange("confidence", {0, 100});
}

MaybeError ReadEnrolment(const v1::ExampleEnrolment& enrolled,
                         v1::Enrolment& enrolment) {
  if (!enrolled.has_planned_visits()) return std::nullopt;
  enrolment.set_planned_visits(enrolled.planned_visits());
  if (InRange(enrolled.planned_visits(), {1, 52})) return std::nullopt;
  return OutOfRange("planned_visits", {1, 52});
}

}  // namespace

absl::Time ExampleTime(int day) {
  return absl::FromCivil(absl::CivilHour(2027, 1, 4 + day, 10),
                         absl::UTCTimeZone());
}

bool InRange(int value, Interval range) {
  return range.low <= value && value <= range.high;
}

std::optional<ExampleError> OutOfRange(const std::string& field,
                                       Interval range) {
  return ExampleError{absl::StrCat(field, " is missing or out of range"),
                      absl::StrCat("write ", field, ": with a number from ",
                                   range.low, " to ", range.high)};
}

std::optional<ExampleError> ReadFact(const v1::ExampleFact& fact,
                                     const Catalogue& catalogue,
                                     v1::Event& event) {
  switch (fact.what_case()) {
    case v1::ExampleFact::kForm:
      return ReadForm(fact.form(), catalogue,
                      *event.mutable_screening_result());
    case v1::ExampleFact::kPlanned:
      return ReadPlan(fact.planned(), *event.mutable_visit_planned());
    case v1::ExampleFact::kVisit:
      return ReadVisit(fact.visit(), *event.mutable_visit_outcome());
    case v1::ExampleFact::kPractice:
      return ReadPractice(fact.practice(), *event.mutable_practice_report());
    case v1::ExampleFact::kEnrolled:
      return ReadEnrolment(fact.enrolled(), *event.mutable_enrolment());
    case v1::ExampleFact::kDischarged:
      event.mutable_discharge()->set_reason(fact.discharged().reason());
      if (fact.discharged().reason() != v1::DISCHARGE_REASON_UNSPECIFIED) {
        return std::nullopt;
      }
      return NoChoice("reason", "DISCHARGE_REASON_COMPLETED or another");
    case v1::ExampleFact::WHAT_NOT_SET:
      break;
  }
  return ExampleError{
      "the fact does not say what happened",
      "write form, planned, visit, practice, enrolled or discharged"};
}

}  // namespace turnstone
