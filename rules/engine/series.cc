#include "rules/engine/series.h"

#include <absl/strings/str_cat.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <string>

#include "rules/engine/course.h"
#include "rules/engine/wording.h"
#include "rules/measure/proto_time.h"
#include "rules/measure/symptom_count.h"

namespace turnstone {
namespace {

std::string PatternInWords(std::optional<SymptomPattern> pattern) {
  if (!pattern) return "the pattern cannot be told, answers are missing";
  switch (*pattern) {
    case SymptomPattern::kMajor:
      return "pattern of a major depressive syndrome";
    case SymptomPattern::kOther:
      return "pattern of another depressive syndrome";
    case SymptomPattern::kNone:
      break;
  }
  return "no pattern met";
}

// Empty where no answer was given: there is nothing to count.
std::string SymptomsInWords(const Screening& form) {
  const auto counted = CountSymptoms(*form.scale, form.score);
  if (!counted || form.score.answered_items == 0) return "";
  const Interval count = counted->count;
  return absl::StrCat(count.IsPoint() ? "" : absl::StrCat(count.low, " to "),
                      Count(count.high, "symptom"), "; ",
                      PatternInWords(counted->pattern),
                      "; a count, not a diagnosis");
}

v1::ScorePoint PointOf(const Fact& fact) {
  const Screening& form = *fact.As<Screening>();
  const Score& score = form.score;
  v1::ScorePoint point;
  *point.mutable_effective_time() = ToProto(fact.effective);
  if (score.result) {
    point.set_result(form.scale->FindResult(*score.result)->label());
    return point;
  }
  point.set_low(score.total.low);
  point.set_high(score.total.high);
  point.set_band(form.scale->BandFor(score.total));
  if (score.prorated) point.set_prorated(*score.prorated);
  if (score.reported) point.set_reported(*score.reported);
  point.set_disagrees(score.disagrees);
  point.set_symptoms(SymptomsInWords(form));
  if (const auto said = SelfHarmOf(form)) point.set_self_harm(*said);
  return point;
}

// REQUIRES: `forms` is not empty, and all are of one instrument.
v1::ScoreSeries SeriesOf(const std::vector<const Fact*>& forms,
                         const Fact* enrolment, absl::TimeZone zone) {
  const Scale& scale = *forms.front()->As<Screening>()->scale;
  v1::ScoreSeries series;
  series.set_instrument(scale.definition().id());
  series.set_name(scale.definition().name());
  series.set_direction(scale.definition().direction());
  series.set_lowest_possible(scale.Range().low);
  series.set_highest_possible(scale.Range().high);
  for (const Fact* form : forms) *series.add_point() = PointOf(*form);
  std::vector<const Fact*> done;
  std::copy_if(
      forms.begin(), forms.end(), std::back_inserter(done),
      [](const Fact* form) { return WasDone(*form->As<Screening>()); });
  if (scale.HasItems() && done.size() > 1) {
    *series.mutable_course() = MeasureCourse(done, enrolment, zone);
  }
  return series;
}

}  // namespace

std::vector<v1::ScoreSeries> MeasureSeries(const History& history,
                                           absl::TimeZone zone) {
  std::map<std::string, std::vector<const Fact*>> by_instrument;
  const Fact* enrolment = nullptr;
  for (const Fact& fact : history.facts()) {
    if (fact.As<EnrolmentFact>() != nullptr) enrolment = &fact;
    const auto* form = fact.As<Screening>();
    if (form == nullptr) continue;
    by_instrument[form->scale->definition().id()].push_back(&fact);
  }
  std::vector<v1::ScoreSeries> all;
  all.reserve(by_instrument.size());
  for (const auto& [id, forms] : by_instrument) {
    all.push_back(SeriesOf(forms, enrolment, zone));
  }
  return all;
}

}  // namespace turnstone
