#include "rules/engine/fact_content.h"

#include <absl/strings/str_cat.h>

#include <utility>

#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

absl::StatusOr<FactContent> MakeScreening(const v1::ScreeningResult& form,
                                          const Catalogue& catalogue) {
  const Scale* scale = catalogue.Find(form.instrument());
  if (scale == nullptr) {
    return absl::InvalidArgumentError(
        absl::StrCat("screeningResult.instrument: \"", form.instrument(),
                     "\" is not known here; send one of ", catalogue.Ids()));
  }
  absl::StatusOr<Score> score = ScoreForm(*scale, form);
  if (!score.ok()) return score.status();
  Screening screening{scale, *std::move(score), std::nullopt};
  if (form.has_willing()) screening.willing = form.willing();
  return FactContent(std::move(screening));
}

}  // namespace

absl::StatusOr<FactContent> MakeContent(const v1::Event& event,
                                        const Catalogue& catalogue) {
  switch (event.payload_case()) {
    case v1::Event::kScreeningResult:
      return MakeScreening(event.screening_result(), catalogue);
    case v1::Event::kVisitPlanned:
      return PlannedVisit{event.visit_planned().visit(),
                          FromProto(event.visit_planned().planned_start()),
                          event.visit_planned().clinician()};
    case v1::Event::kVisitOutcome:
      return VisitResult{event.visit_outcome().visit(),
                         event.visit_outcome().outcome()};
    case v1::Event::kPracticeReport: {
      Practice practice;
      if (event.practice_report().has_confidence()) {
        practice.confidence = event.practice_report().confidence();
      }
      return practice;
    }
    case v1::Event::kEnrolment: {
      EnrolmentFact enrolment;
      enrolment.clinician = event.enrolment().clinician();
      if (event.enrolment().has_planned_visits()) {
        enrolment.planned_visits = event.enrolment().planned_visits();
      }
      return enrolment;
    }
    case v1::Event::kDischarge:
      return DischargeFact{event.discharge().reason()};
    case v1::Event::kCorrection:
    case v1::Event::PAYLOAD_NOT_SET:
      break;
  }
  return absl::InvalidArgumentError(
      "the event carries no fact; send one of enrolment, screeningResult, "
      "visitPlanned, visitOutcome, practiceReport, discharge");
}

}  // namespace turnstone
