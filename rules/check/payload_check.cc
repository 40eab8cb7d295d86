#include "rules/check/payload_check.h"

#include <absl/strings/str_cat.h>
#include <absl/time/civil_time.h>

#include <vector>

#include "rules/check/event_time.h"
#include "rules/check/field_error.h"
#include "rules/check/suggest.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/score.h"

namespace turnstone {
namespace {

constexpr size_t kLongestVisit = 100;
constexpr size_t kLongestClinician = 100;

// The same moment of another year, in UTC.
absl::Time YearsFrom(absl::Time time, int years) {
  const absl::CivilSecond at = absl::ToCivilSecond(time, absl::UTCTimeZone());
  return absl::FromCivil(
      absl::CivilSecond(at.year() + years, at.month(), at.day(), at.hour(),
                        at.minute(), at.second()),
      absl::UTCTimeZone());
}

// May be left out.
absl::Status CheckClinician(const std::string& clinician,
                            const std::string& path) {
  if (clinician.empty()) return absl::OkStatus();
  return CheckIdentifier(path + "clinician", clinician, kLongestClinician);
}

absl::Status CheckEnrolment(const v1::Enrolment& enrolment,
                            const std::string& path) {
  absl::Status clinician = CheckClinician(enrolment.clinician(), path);
  if (!clinician.ok()) return clinician;
  if (!enrolment.has_planned_visits()) return absl::OkStatus();
  if (enrolment.planned_visits() >= 1 && enrolment.planned_visits() <= 52) {
    return absl::OkStatus();
  }
  return FieldError(path + "plannedVisits", "is out of range",
                    "a whole number from 1 to 52, or leave it out for the "
                    "site's number");
}

absl::Status CheckForm(const v1::ScreeningResult& form, const std::string& path,
                       const Catalogue& catalogue) {
  const Scale* scale = catalogue.Find(form.instrument());
  if (scale == nullptr) {
    return FieldError(
        path + "instrument",
        form.instrument().empty() ? "is missing" : "is not known here",
        absl::StrCat("one of ", catalogue.Ids(), ", or its LOINC panel code"));
  }
  absl::Status scored = ScoreForm(*scale, form).status();
  if (scored.ok()) return scored;
  return absl::Status(scored.code(), absl::StrCat(path, scored.message()));
}

absl::Status CheckPlan(const v1::VisitPlanned& plan, const std::string& path,
                       absl::Time effective) {
  absl::Status visit =
      CheckIdentifier(path + "visit", plan.visit(), kLongestVisit);
  if (!visit.ok()) return visit;
  absl::Status clinician = CheckClinician(plan.clinician(), path);
  if (!clinician.ok()) return clinician;
  const std::string field = path + "plannedStart";
  const std::string send =
      "when the visit is to begin, from one year before effectiveTime to two "
      "years after it";
  if (!plan.has_planned_start()) return FieldError(field, "is missing", send);
  absl::Status stamp = CheckStamp(field, plan.planned_start());
  if (!stamp.ok()) return stamp;
  const absl::Time start = FromProto(plan.planned_start());
  if (start < YearsFrom(effective, -1)) {
    return FieldError(field, "is too far before effectiveTime", send);
  }
  if (start > YearsFrom(effective, 2)) {
    return FieldError(field, "is too far after effectiveTime", send);
  }
  return absl::OkStatus();
}

absl::Status CheckOutcome(const v1::VisitOutcome& outcome,
                          const std::string& path) {
  absl::Status visit =
      CheckIdentifier(path + "visit", outcome.visit(), kLongestVisit);
  if (!visit.ok()) return visit;
  return CheckChoice(path + "outcome", outcome.outcome(),
                     *v1::VisitOutcomeKind_descriptor());
}

absl::Status CheckReport(const v1::PracticeReport& report,
                         const std::string& path) {
  if (!report.has_confidence()) return absl::OkStatus();
  if (report.confidence() >= 0 && report.confidence() <= 100) {
    return absl::OkStatus();
  }
  return FieldError(path + "confidence", "is out of range",
                    "a whole number of percent from 0 to 100, or leave it out "
                    "if it was not asked");
}

}  // namespace

std::string PayloadNames() {
  const auto& payload = *v1::Event::descriptor()->FindOneofByName("payload");
  std::vector<std::string> names;
  names.reserve(static_cast<size_t>(payload.field_count()));
  for (int i = 0; i < payload.field_count(); ++i) {
    names.push_back(payload.field(i)->json_name());
  }
  return OneOf(names);
}

absl::Status CheckPayload(const v1::Event& event, const std::string& prefix,
                          const Catalogue& catalogue) {
  const absl::Time effective = FromProto(event.effective_time());
  switch (event.payload_case()) {
    case v1::Event::kEnrolment:
      return CheckEnrolment(event.enrolment(), prefix + "enrolment.");
    case v1::Event::kScreeningResult:
      return CheckForm(event.screening_result(), prefix + "screeningResult.",
                       catalogue);
    case v1::Event::kVisitPlanned:
      return CheckPlan(event.visit_planned(), prefix + "visitPlanned.",
                       effective);
    case v1::Event::kVisitOutcome:
      return CheckOutcome(event.visit_outcome(), prefix + "visitOutcome.");
    case v1::Event::kPracticeReport:
      return CheckReport(event.practice_report(), prefix + "practiceReport.");
    case v1::Event::kDischarge:
      return CheckChoice(prefix + "discharge.reason",
                         event.discharge().reason(),
                         *v1::DischargeReason_descriptor());
    case v1::Event::kCorrection:
    case v1::Event::PAYLOAD_NOT_SET:
      break;
  }
  return FieldError(prefix + "payload", "is missing",
                    absl::StrCat("one of ", PayloadNames()));
}

}  // namespace turnstone
