#include "rules/explain/steps.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

std::string NameOf(const v1::Event& event, const Setup& setup) {
  switch (event.payload_case()) {
    case v1::Event::kEnrolment:
      return "the enrolment";
    case v1::Event::kScreeningResult:
      return absl::StrCat("the ",
                          setup.catalogue()
                              .Find(event.screening_result().instrument())
                              ->definition()
                              .name());
    case v1::Event::kVisitPlanned:
      return absl::StrCat("the plan for ", event.visit_planned().visit());
    case v1::Event::kVisitOutcome:
      return absl::StrCat("the outcome of ", event.visit_outcome().visit());
    case v1::Event::kPracticeReport:
      return "the practice report";
    default:
      return "the discharge";
  }
}

class EventSteps {
 public:
  EventSteps(size_t at, const v1::Event& event, const Setup& setup,
             const Site& site, std::vector<Step>& steps)
      : at_(at),
        event_(event),
        setup_(setup),
        site_(site),
        name_(absl::StrCat("if ", NameOf(event, setup), " of ",
                           DayInWords(FromProto(event.effective_time()),
                                      site.calendar.zone()))),
        steps_(steps) {}

  void AddAll() {
    switch (event_.payload_case()) {
      case v1::Event::kScreeningResult:
        Form();
        break;
      case v1::Event::kVisitOutcome:
        Outcomes();
        break;
      case v1::Event::kPracticeReport:
        Percents();
        break;
      case v1::Event::kEnrolment:
        PlannedVisits();
        break;
      case v1::Event::kDischarge:
        Reasons();
        break;
      default:
        break;
    }
    Days();
    steps_.push_back(
        {at_, std::nullopt, absl::StrCat(name_, " were not on record")});
  }

 private:
  v1::Event& Add(const std::string& words) {
    steps_.push_back({at_, event_, absl::StrCat(name_, " ", words)});
    return *steps_.back().instead;
  }

  void Form() {
    const v1::ScreeningResult& form = event_.screening_result();
    for (FormStep& step :
         FormSteps(form, *setup_.catalogue().Find(form.instrument()))) {
      *Add(step.words).mutable_screening_result() = std::move(step.instead);
    }
  }

  void Outcomes() {
    for (int i = v1::VISIT_OUTCOME_KIND_ATTENDED; i <= v1::VisitOutcomeKind_MAX;
         ++i) {
      const auto other = static_cast<v1::VisitOutcomeKind>(i);
      if (other == event_.visit_outcome().outcome()) continue;
      Add(absl::StrCat("were \"", OutcomeInWords(other), "\""))
          .mutable_visit_outcome()
          ->set_outcome(other);
    }
  }

  void Percents() {
    const v1::PracticeReport& report = event_.practice_report();
    for (const int by : {-1, 1}) {
      const int percent = report.confidence() + by;
      if (!report.has_confidence() || percent < 0 || percent > 100) continue;
      Add(absl::StrCat("said ", percent, " % instead of ", report.confidence(),
                       " %"))
          .mutable_practice_report()
          ->set_confidence(percent);
    }
    if (!report.has_confidence()) return;
    Add("did not say how likely it is")
        .mutable_practice_report()
        ->clear_confidence();
  }

  void PlannedVisits() {
    const v1::Enrolment& enrolment = event_.enrolment();
    const int now = enrolment.has_planned_visits()
                        ? enrolment.planned_visits()
                        : site_.config.planned_visits();
    for (const int by : {-1, 1}) {
      if (now + by < 1) continue;
      Add(absl::StrCat("planned ", Count(now + by, "visit"), " instead of ",
                       now))
          .mutable_enrolment()
          ->set_planned_visits(now + by);
    }
  }

  void Reasons() {
    for (int i = v1::DISCHARGE_REASON_COMPLETED; i <= v1::DischargeReason_MAX;
         ++i) {
      const auto other = static_cast<v1::DischargeReason>(i);
      if (other == event_.discharge().reason()) continue;
      Add(absl::StrCat("were \"", DischargeInWords(other), "\""))
          .mutable_discharge()
          ->set_reason(other);
    }
  }

  void Days() {
    constexpr int kDay = 24 * 60 * 60;
    for (const int by : {-1, 1}) {
      auto& time =
          *Add(absl::StrCat("were dated a day ", by < 0 ? "earlier" : "later"))
               .mutable_effective_time();
      time.set_seconds(time.seconds() + by * kDay);
    }
  }

  const size_t at_;
  const v1::Event& event_;
  const Setup& setup_;
  const Site& site_;
  const std::string name_;
  std::vector<Step>& steps_;
};

}  // namespace

std::vector<Step> StepsFrom(const std::vector<v1::Event>& events,
                            const Setup& setup, const Site& site) {
  std::vector<Step> steps;
  for (size_t at = 0; at < events.size(); ++at) {
    EventSteps(at, events[at], setup, site, steps).AddAll();
  }
  return steps;
}

}  // namespace turnstone
