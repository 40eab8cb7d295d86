#include "tests/bench/growth_events.h"

#include <absl/strings/str_cat.h>

#include <cstddef>
#include <utility>

#include "tests/support/events.h"

namespace turnstone {
namespace {

constexpr int kEventsInProgramme = 36;

v1::Event GrowthEvent(int number, const std::string& id, absl::Time when) {
  const int place = number % kEventsInProgramme;
  if (place == 0) {
    v1::Event event = Enrolled(id, when);
    event.mutable_enrolment()->set_planned_visits(5);
    return event;
  }
  if (place == kEventsInProgramme - 1) return Discharged(id, when);
  const std::string visit = absl::StrCat("visit-", number / 4);
  switch (number % 4) {
    case 1:
      return Planned(id, when, visit, when + absl::Hours(24 * 7));
    case 2:
      return Phq9Total(id, when, 3);
    case 3:
      return Outcome(id, when, visit, v1::VISIT_OUTCOME_KIND_ATTENDED);
    default:
      return Confidence(id, when, 90);
  }
}

}  // namespace

v1::SubmitRequest GrowthEvents::Next(int participant) {
  const auto who = static_cast<size_t>(participant);
  if (given_.size() <= who) given_.resize(who + 1);
  const absl::Time when =
      At("2027-01-04T09:00:00Z") + absl::Milliseconds(10) * posted_;
  v1::Event event =
      GrowthEvent(given_[who]++, absl::StrCat("e-", ++posted_), when);
  event.set_source("urn:example:growth");
  event.set_participant(absl::StrCat("p-", participant));
  v1::SubmitRequest request;
  *request.mutable_event() = std::move(event);
  return request;
}

}  // namespace turnstone
