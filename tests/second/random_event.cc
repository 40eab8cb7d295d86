#include "tests/second/random_event.h"

#include <iterator>
#include <string>

#include "rules/measure/proto_time.h"
#include "tests/second/random_form.h"

namespace turnstone::second {
namespace {

constexpr Sort kSorts[] = {{35, 12, 20, 10, 13, 50}, {80, 2, 8, 2, 5, 90},
                           {15, 30, 40, 3, 7, 60},   {45, 3, 35, 2, 10, 85},
                           {40, 5, 5, 5, 25, 70},    {22, 0, 68, 0, 9, 95}};

const v1::Instrument& Favourite(const v1::Configuration& configuration,
                                Dice& dice) {
  const bool phq9 = dice.Once(75);
  for (const v1::Instrument& one : configuration.instrument()) {
    if (phq9 && one.id() == "phq-9") return one;
  }
  return dice.OneOf(configuration.instrument());
}

std::string AVisit(Dice& dice) {
  return "visit-" + std::to_string(dice.Between(1, 9));
}

}  // namespace

Life RandomLife(const v1::Configuration& configuration, Dice& dice) {
  const Sort& sort = kSorts[dice.Between(0, std::size(kSorts) - 1)];
  return {configuration, sort, Favourite(configuration, dice),
          dice.Between(0, 100)};
}

void Enrol(Dice& dice, v1::Event& event) {
  event.mutable_enrolment();
  if (dice.Once(60)) {
    event.mutable_enrolment()->set_planned_visits(dice.Between(1, 8));
  }
}

void Fill(const Life& life, Dice& dice, v1::Event& event) {
  const Sort& sort = life.sort;
  int kind = dice.Between(1, 100);
  if ((kind -= sort.screening) <= 0) {
    const bool usual = dice.Once(sort.favourite);
    const int severity = dice.Once(60) ? life.severity : dice.Between(0, 100);
    *event.mutable_screening_result() = RandomForm(
        usual ? life.favourite : dice.OneOf(life.configuration.instrument()),
        severity, dice);
  } else if ((kind -= sort.planned) <= 0) {
    event.mutable_visit_planned()->set_visit(AVisit(dice));
    *event.mutable_visit_planned()->mutable_planned_start() =
        ToProto(FromProto(event.effective_time()) +
                (dice.Once(80) ? absl::Hours(dice.Between(0, 24 * 10))
                               : -absl::Hours(dice.Between(1, 24 * 9))));
  } else if ((kind -= sort.outcome) <= 0) {
    event.mutable_visit_outcome()->set_visit(AVisit(dice));
    event.mutable_visit_outcome()->set_outcome(
        dice.Once(60) ? v1::VISIT_OUTCOME_KIND_ATTENDED
                      : static_cast<v1::VisitOutcomeKind>(dice.Between(1, 6)));
  } else if ((kind -= sort.practice) <= 0) {
    event.mutable_practice_report();
    if (dice.Once(80)) {
      event.mutable_practice_report()->set_confidence(10 * dice.Between(4, 10));
    }
  } else if (kind <= sort.enrolment) {
    Enrol(dice, event);
  } else {
    event.mutable_discharge()->set_reason(
        dice.Once(50) ? v1::DISCHARGE_REASON_COMPLETED
                      : static_cast<v1::DischargeReason>(dice.Between(1, 7)));
  }
}

}  // namespace turnstone::second
