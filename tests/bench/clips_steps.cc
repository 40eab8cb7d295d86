#include "tests/bench/clips_steps.h"

#include <algorithm>
#include <string>

#include "rules/engine/agenda.h"
#include "rules/engine/fact_content.h"

namespace turnstone {
namespace {

// "visit-3".
int64_t NumberOf(const std::string& visit) {
  return std::stoll(visit.substr(visit.rfind('-') + 1));
}

ClipsFact FormFact(const Screening& form, int64_t id, int64_t at,
                   int64_t number) {
  const std::optional<int> item =
      form.score.points[*form.scale->SelfHarmItem()];
  return {"form",
          {{"id", id},
           {"at", at},
           {"number", number},
           {"low", form.score.total.low},
           {"high", form.score.total.high},
           {"self-harm", item.value_or(-1)},
           {"willing", form.willing ? int64_t{*form.willing} : -1}}};
}

ClipsFact ToFact(const FactContent& content, int64_t id, const v1::Event& event,
                 int64_t& forms) {
  const int64_t at = event.effective_time().seconds();
  if (const auto* form = std::get_if<Screening>(&content)) {
    return FormFact(*form, id, at, ++forms);
  }
  if (const auto* plan = std::get_if<PlannedVisit>(&content)) {
    return {"plan", {{"id", id}, {"at", at}, {"visit", NumberOf(plan->visit)}}};
  }
  if (const auto* visit = std::get_if<VisitResult>(&content)) {
    const bool attended = visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED;
    return {"outcome",
            {{"id", id},
             {"at", at},
             {"visit", NumberOf(visit->visit)},
             {"attended", attended ? 1 : 0}}};
  }
  if (const auto* report = std::get_if<Practice>(&content)) {
    return {"report",
            {{"id", id}, {"confidence", report->confidence.value_or(0)}}};
  }
  const bool enrolment = std::holds_alternative<EnrolmentFact>(content);
  return {enrolment ? "enrolment" : "discharge", {{"at", at}}};
}

}  // namespace

absl::Time HappenedAt(const v1::Event& event) {
  return absl::FromUnixSeconds(event.effective_time().seconds());
}

Steps StepsOf(const Course& course, const Setup& setup) {
  const Site& site = *setup.FindSite("pebble-bay");
  Steps steps;
  int64_t forms = 0;
  for (size_t i = 0; i < course.size(); ++i) {
    const absl::Time when = HappenedAt(course[i]);
    const auto id = static_cast<int64_t>(i);
    const FactContent content =
        MakeContent(course[i], setup.catalogue()).value();
    steps.push_back({when,
                     ToFact(content, id, course[i], forms),
                     {"current", {{"id", id}}}});
    for (const Question& question :
         QuestionsAbout({{}, "", when, content}, site)) {
      if (question.due == when) continue;
      steps.push_back({question.due, {}, {"deadline", {{"id", id}}}});
    }
  }
  std::stable_sort(
      steps.begin(), steps.end(),
      [](const Step& a, const Step& b) { return a.when < b.when; });
  return steps;
}

}  // namespace turnstone
