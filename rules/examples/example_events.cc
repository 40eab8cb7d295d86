#include "rules/examples/example_events.h"

#include <absl/strings/str_cat.h>
#include <absl/time/time.h>

#include <optional>
#include <utility>

#include "rules/examples/ask_rule.h"
#include "rules/examples/example_setup.h"
#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

constexpr int kMostFacts = 60;
constexpr int kLastDay = 3650;

using MaybeError = std::optional<ExampleError>;

absl::Time TimeOn(int day) {
  return absl::FromCivil(absl::CivilHour(2027, 1, 4, 10) + 24 * day,
                         absl::UTCTimeZone());
}

bool InRange(int value, Interval range) {
  return range.low <= value && value <= range.high;
}

MaybeError NotIn(const std::string& field, Interval range) {
  return ExampleError{absl::StrCat(field, " is missing or out of range"),
                      absl::StrCat("write ", field, ": with a number from ",
                                   range.low, " to ", range.high)};
}

MaybeError NoChoice(const std::string& field, const std::string& such_as) {
  return ExampleError{absl::StrCat(field, " is missing"),
                      absl::StrCat("write ", field, ": ", such_as)};
}

MaybeError ReadPlan(const v1::ExamplePlan& plan, v1::VisitPlanned& planned) {
  if (plan.visit().empty()) return NoChoice("visit", "\"visit-1\"");
  if (!plan.has_start_day() || !InRange(plan.start_day(), {0, kLastDay})) {
    return NotIn("start_day", {0, kLastDay});
  }
  planned.set_visit(plan.visit());
  *planned.mutable_planned_start() = ToProto(TimeOn(plan.start_day()));
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
  return NotIn("confidence", {0, 100});
}

MaybeError ReadEnrolment(const v1::ExampleEnrolment& enrolled,
                         v1::Enrolment& enrolment) {
  if (!enrolled.has_planned_visits()) return std::nullopt;
  enrolment.set_planned_visits(enrolled.planned_visits());
  if (InRange(enrolled.planned_visits(), {1, 52})) return std::nullopt;
  return NotIn("planned_visits", {1, 52});
}

MaybeError ReadWhat(const v1::ExampleFact& fact, const Catalogue& catalogue,
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

MaybeError CheckDay(const v1::Example& example, int at) {
  const v1::ExampleFact& fact = example.fact(at);
  if (!fact.has_day() || !InRange(fact.day(), {0, kLastDay})) {
    return NotIn("day", {0, kLastDay});
  }
  if (at == 0 || fact.day() >= example.fact(at - 1).day()) return std::nullopt;
  return ExampleError{"the day is earlier than that of the fact before",
                      "write the facts in the order in which they happen"};
}

// Appends fact `at`, with its event, to `found`.
MaybeError AddFact(const v1::Example& example, int at, const Setup& setup,
                   ExampleCase& found) {
  if (MaybeError error = CheckDay(example, at)) return error;
  const int day = example.fact(at).day();
  absl::Time time = TimeOn(day);
  for (int i = at; i > 0 && example.fact(i - 1).day() == day; --i) {
    time += absl::Minutes(1);
  }
  v1::Event event;
  event.set_source("examples");
  event.set_event_id(absl::StrCat("fact-", at + 1));
  event.set_site(ExampleSite(setup).config.id());
  event.set_participant("example");
  *event.mutable_effective_time() = ToProto(time);
  MaybeError error = ReadWhat(example.fact(at), setup.catalogue(), event);
  if (error) return error;
  const auto applied = found.history.Apply(event, setup.catalogue());
  found.event.push_back(std::move(event));
  if (applied.ok()) return std::nullopt;
  return ExampleError{std::string(applied.status().message()), "mend the form"};
}

MaybeError FindAsked(const v1::Example& example, const Site& site, int rule,
                     ExampleCase& found) {
  const std::vector<Fact>& facts = found.history.facts();
  std::optional<size_t> asked;
  for (size_t i = 0; i < facts.size(); ++i) {
    if (!example.fact(static_cast<int>(i)).asked()) continue;
    if (asked) {
      return ExampleError{"two facts are asked about",
                          "write asked: true on one of them",
                          static_cast<int>(i)};
    }
    asked = i;
    if (IsAskedAbout(site, rule, facts[i])) continue;
    return ExampleError{"the rule is not asked about facts of this kind",
                        "write asked: true on another, or leave it out",
                        static_cast<int>(i)};
  }
  for (size_t i = facts.size(); !asked && i-- > 0;) {
    if (IsAskedAbout(site, rule, facts[i])) asked = i;
  }
  if (!asked) {
    return ExampleError{"the rule is not asked about any of these facts",
                        "add one of the kind named in the rule's when { }"};
  }
  found.asked = facts[*asked].key;
  return std::nullopt;
}

}  // namespace

std::variant<ExampleCase, ExampleError> ReadExample(const v1::Example& example,
                                                    const Setup& setup,
                                                    int rule) {
  if (!InRange(example.fact_size(), {1, kMostFacts})) {
    return ExampleError{example.fact().empty() ? "there is no fact"
                                               : "there are too many facts",
                        absl::StrCat("write fact { ... }, 1 to ", kMostFacts)};
  }
  ExampleCase found;
  found.event.reserve(static_cast<size_t>(example.fact_size()));
  for (int i = 0; i < example.fact_size(); ++i) {
    if (MaybeError error = AddFact(example, i, setup, found)) {
      error->fact = i;
      return *error;
    }
  }
  MaybeError error = FindAsked(example, ExampleSite(setup), rule, found);
  if (error) return *error;
  return found;
}

}  // namespace turnstone
