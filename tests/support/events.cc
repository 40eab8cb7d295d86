#include "tests/support/events.h"

#include <algorithm>
#include <cstdlib>

#include "rules/measure/proto_time.h"

namespace turnstone {
namespace {

// In printed order, which is not the order of the codes (clinical sources:
// LOINC panel 44249-1).
constexpr const char* kPhq9Items[] = {"44250-9", "44255-8", "44259-0",
                                      "44254-1", "44251-7", "44258-2",
                                      "44252-5", "44253-3", "44260-8"};
// LOINC answer list LL358-3.
constexpr const char* kAnswers[] = {"LA6568-5", "LA6569-3", "LA6570-1",
                                    "LA6571-9"};

}  // namespace

absl::Time At(const std::string& rfc3339) {
  absl::Time time;
  std::string why;
  if (!absl::ParseTime(absl::RFC3339_full, rfc3339, &time, &why)) std::abort();
  return time;
}

v1::Event EventAt(const std::string& id, absl::Time when) {
  v1::Event event;
  event.set_source("urn:test");
  event.set_event_id(id);
  event.set_site("pebble-bay");
  event.set_participant("p1");
  *event.mutable_effective_time() = ToProto(when);
  return event;
}

v1::Event Phq9(const std::string& id, absl::Time when,
               const std::vector<std::optional<int>>& items) {
  v1::Event event = EventAt(id, when);
  v1::ScreeningResult& form = *event.mutable_screening_result();
  form.set_instrument("phq-9");
  for (size_t i = 0; i < items.size(); ++i) {
    if (!items[i]) continue;
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(kPhq9Items[i]);
    answer.set_answer(kAnswers[*items[i]]);
  }
  return event;
}

v1::Event Phq9Total(const std::string& id, absl::Time when, int total,
                    int self_harm) {
  std::vector<std::optional<int>> items(9, 0);
  items[8] = self_harm;
  int left = total - self_harm;
  for (size_t i = 0; i < 8 && left > 0; ++i) {
    const int points = std::min(left, 3);
    items[i] = points;
    left -= points;
  }
  if (left != 0) std::abort();
  return Phq9(id, when, items);
}

v1::Event Planned(const std::string& id, absl::Time when,
                  const std::string& visit, absl::Time start) {
  v1::Event event = EventAt(id, when);
  event.mutable_visit_planned()->set_visit(visit);
  *event.mutable_visit_planned()->mutable_planned_start() = ToProto(start);
  return event;
}

v1::Event Outcome(const std::string& id, absl::Time when,
                  const std::string& visit, v1::VisitOutcomeKind outcome) {
  v1::Event event = EventAt(id, when);
  event.mutable_visit_outcome()->set_visit(visit);
  event.mutable_visit_outcome()->set_outcome(outcome);
  return event;
}

v1::Event Confidence(const std::string& id, absl::Time when,
                     std::optional<int> percent) {
  v1::Event event = EventAt(id, when);
  event.mutable_practice_report();
  if (percent) event.mutable_practice_report()->set_confidence(*percent);
  return event;
}

v1::Event Enrolled(const std::string& id, absl::Time when) {
  v1::Event event = EventAt(id, when);
  event.mutable_enrolment();
  return event;
}

v1::Event Discharged(const std::string& id, absl::Time when) {
  v1::Event event = EventAt(id, when);
  event.mutable_discharge()->set_reason(v1::DISCHARGE_REASON_COMPLETED);
  return event;
}

v1::Event Withdrawn(const std::string& id, absl::Time when,
                    const v1::Event& mended) {
  v1::Event event = EventAt(id, when);
  v1::Correction& correction = *event.mutable_correction();
  correction.set_corrected_source(mended.source());
  correction.set_corrected_event_id(mended.event_id());
  correction.set_withdrawn(true);
  correction.set_reason("wrong form");
  return event;
}

v1::Event Replaced(const std::string& id, absl::Time when,
                   const v1::Event& replacement) {
  v1::Event event = Withdrawn(id, when, replacement);
  *event.mutable_correction()->mutable_replacement() = replacement;
  return event;
}

}  // namespace turnstone
