// Conditions on the record: enrolment, contacts, earlier forms.
#include <algorithm>

#include "tests/second/asked.h"
#include "tests/second/days.h"

namespace turnstone::second {
namespace {

v1::Truth IsDischargedAs(const v1::DischargedAs& discharged, const Fact* last) {
  if (last == nullptr || !last->event->has_discharge()) {
    return v1::TRUTH_FALSE;
  }
  const auto& reasons = discharged.reason();
  return Say(std::count(reasons.begin(), reasons.end(),
                        last->event->discharge().reason()) > 0);
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
