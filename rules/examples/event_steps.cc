#include "rules/examples/event_steps.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

std::string NameOf(const v1::Event& event, const Catalogue& catalogue) {
  switch (event.payload_case()) {
    case v1::Event::kScreeningResult: {
      const std::string& id = event.screening_result().instrument();
      const Scale* scale = catalogue.Find(id);
      return scale == nullptr ? id : scale->definition().name();
    }
    case v1::Event::kVisitPlanned:
      return absl::StrCat("plan for ", event.visit_planned().visit());
    case v1::Event::kVisitOutcome:
      return absl::StrCat("outcome of ", event.visit_outcome().visit());
    case v1::Event::kPracticeReport:
      return "practice report";
    case v1::Event::kEnrolment:
      return "enrolment";
    case v1::Event::kDischarge:
      return "discharge";
    default:
      return "event";
  }
}

// Every value of an enumeration but the unspecified one and `present`.
template <typename Choice>
std::vector<Choice> OtherThan(Choice present, int last) {
  std::vector<Choice> others;
  for (int value = 1; value <= last; ++value) {
    if (value != present) others.push_back(static_cast<Choice>(value));
  }
  return others;
}

}  // namespace

std::string EventPhrase(const v1::Event& event, const Catalogue& catalogue,
                        absl::TimeZone zone) {
  return absl::StrCat("the ", NameOf(event, catalogue), " of ",
                      DayInWords(FromProto(event.effective_time()), zone));
}

void EventSteps::Add(StepSize size, v1::Event changed,
                     const std::string& differs) {
  steps_->push_back({size, std::move(changed), at_, false,
                     absl::StrCat(phrase_, " ", differs)});
}

void EventSteps::AddAll(std::vector<Step>& steps) {
  steps_ = &steps;
  if (event_.has_screening_result()) OfForm();
  if (event_.has_visit_outcome()) OfVisit();
  if (event_.has_visit_planned()) OfPlan();
  if (event_.has_practice_report()) OfPractice();
  if (event_.has_enrolment()) OfEnrolment();
  if (event_.has_discharge()) OfDischarge();
  OfTime();
  LeftOut();
  OnceMore();
}

void EventSteps::OfVisit() {
  const v1::VisitOutcomeKind present = event_.visit_outcome().outcome();
  for (const auto other : OtherThan(present, v1::VisitOutcomeKind_MAX)) {
    v1::Event changed = event_;
    changed.mutable_visit_outcome()->set_outcome(other);
    Add(StepSize::kOneThing, std::move(changed),
        absl::StrCat("were \"", OutcomeInWords(other), "\" instead of \"",
                     OutcomeInWords(present), "\""));
  }
}

void EventSteps::OfDischarge() {
  const v1::DischargeReason present = event_.discharge().reason();
  for (const auto other : OtherThan(present, v1::DischargeReason_MAX)) {
    v1::Event changed = event_;
    changed.mutable_discharge()->set_reason(other);
    Add(StepSize::kOneThing, std::move(changed),
        absl::StrCat("were \"", DischargeInWords(other), "\" instead of \"",
                     DischargeInWords(present), "\""));
  }
}

void EventSteps::OfPlan() {
  const absl::Time start = FromProto(event_.visit_planned().planned_start());
  for (const int days : {-1, 1}) {
    const absl::Time other = start + days * absl::Hours(24);
    v1::Event changed = event_;
    *changed.mutable_visit_planned()->mutable_planned_start() = ToProto(other);
    Add(StepSize::kOneDay, std::move(changed),
        absl::StrCat("were for ", DayInWords(other, options_.zone),
                     " instead of ", DayInWords(start, options_.zone)));
  }
}

void EventSteps::OfEnrolment() {
  const int present = event_.enrolment().has_planned_visits()
                          ? event_.enrolment().planned_visits()
                          : options_.planned_visits;
  for (const int other : {present - 1, present + 1}) {
    if (other < 1 || other > 52) continue;
    v1::Event changed = event_;
    changed.mutable_enrolment()->set_planned_visits(other);
    Add(StepSize::kOneThing, std::move(changed),
        absl::StrCat("planned ", Count(other, "visit"), " instead of ",
                     present));
  }
}

void EventSteps::OfPractice() {
  const v1::PracticeReport& report = event_.practice_report();
  const auto jump = [&](StepSize size, int to) {
    if (to < 0 || to > 100) return;
    if (report.has_confidence() && to == report.confidence()) return;
    v1::Event changed = event_;
    changed.mutable_practice_report()->set_confidence(to);
    Add(size, std::move(changed),
        absl::StrCat("had a confidence of ", to, " %",
                     report.has_confidence()
                         ? absl::StrCat(" instead of ", report.confidence())
                         : ", which was not asked"));
  };
  if (report.has_confidence()) {
    jump(StepSize::kOneThing, report.confidence() - 1);
    jump(StepSize::kOneThing, report.confidence() + 1);
    v1::Event changed = event_;
    changed.mutable_practice_report()->clear_confidence();
    Add(StepSize::kOneThing, std::move(changed), "had no confidence");
  }
  for (const int number : options_.numbers) jump(StepSize::kManyPoints, number);
}

void EventSteps::OfTime() {
  for (const int days : {-1, 1}) {
    v1::Event changed = event_;
    *changed.mutable_effective_time() =
        ToProto(FromProto(event_.effective_time()) + days * absl::Hours(24));
    Add(StepSize::kOneDay, std::move(changed),
        days < 0 ? "came a day earlier" : "came a day later");
  }
}

void EventSteps::LeftOut() {
  if (options_.asked == EventKey{event_.source(), event_.event_id()}) return;
  steps_->push_back({StepSize::kOneEvent, std::nullopt, at_, false,
                     absl::StrCat(phrase_, " were not there")});
}

}  // namespace turnstone
