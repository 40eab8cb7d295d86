#include "tests/faults/facts.h"

#include <absl/strings/str_cat.h>

#include <optional>
#include <vector>

#include "rules/measure/proto_time.h"
#include "tests/support/events.h"

namespace turnstone::faults {
namespace {

constexpr size_t kFormItems = 9;

v1::Event AnyForm(const std::string& id, absl::Time when, Random& random) {
  std::vector<std::optional<int>> items(kFormItems, std::nullopt);
  const int64_t heavy = random.Below(4);
  const bool gaps = random.PerMille(250);
  for (std::optional<int>& item : items) {
    if (gaps && random.PerMille(200)) continue;
    item = static_cast<int>(random.Between(0, heavy));
  }
  if (random.PerMille(600)) items.back() = 0;
  v1::Event event = Phq9(id, when, items);
  v1::ScreeningResult& form = *event.mutable_screening_result();
  if (form.answers().empty() || random.PerMille(80)) {
    form.clear_answers();
    form.set_reported_total(static_cast<int>(random.Between(0, 27)));
  }
  if (random.PerMille(500)) form.set_willing(random.PerMille(700));
  return event;
}

v1::Event AnyVisit(const std::string& id, absl::Time when, Random& random) {
  const std::string visit = absl::StrCat("visit-", random.Between(1, 8));
  if (random.PerMille(500)) {
    return Planned(id, when, visit,
                   when + absl::Hours(random.Between(-24, int64_t{14} * 24)));
  }
  return Outcome(id, when, visit,
                 static_cast<v1::VisitOutcomeKind>(random.Between(1, 6)));
}

v1::Event AnyEnrolment(const std::string& id, absl::Time when, Random& random) {
  v1::Event event = Enrolled(id, when);
  const std::vector<std::string> clinicians = {"", "r.sorrel", "s.brock",
                                               "x.unknown"};
  event.mutable_enrolment()->set_clinician(random.OneOf(clinicians));
  return event;
}

v1::Event AnyDischarge(const std::string& id, absl::Time when, Random& random) {
  v1::Event event = Discharged(id, when);
  event.mutable_discharge()->set_reason(
      static_cast<v1::DischargeReason>(random.Between(1, 7)));
  return event;
}

// Of the kind of `event`, or of any.
v1::Event FactLike(const v1::Event* event, const std::string& id,
                   absl::Time when, Random& random) {
  while (true) {
    v1::Event fact = AnyFact(id, when, random);
    if (event == nullptr || fact.payload_case() == event->payload_case()) {
      return fact;
    }
  }
}

}  // namespace

v1::Event AnyFact(const std::string& id, absl::Time when, Random& random) {
  const int64_t kind = random.Below(100);
  if (kind < 45) return AnyForm(id, when, random);
  if (kind < 70) return AnyVisit(id, when, random);
  if (kind < 80) return AnyEnrolment(id, when, random);
  if (kind < 95) {
    return Confidence(id, when, static_cast<int>(random.Between(0, 100)));
  }
  return AnyDischarge(id, when, random);
}

v1::Event AnyCorrection(const std::string& id, absl::Time when,
                        const v1::Event& mended, Random& random) {
  v1::Event event;
  if (random.PerMille(400)) {
    event = Withdrawn(id, when, mended);
  } else {
    v1::Event other = FactLike(&mended, mended.event_id(),
                               FromProto(mended.effective_time()), random);
    other.set_source(mended.source());
    other.set_site(mended.site());
    other.set_participant(mended.participant());
    event = Replaced(id, when, other);
  }
  event.set_source(mended.source());
  event.set_site(mended.site());
  event.set_participant(mended.participant());
  return event;
}

void Spoil(absl::Time now, Random& random, v1::Event& event) {
  switch (random.Below(4)) {
    case 0:
      return event.set_site("no-such-site");
    case 1:
      return event.clear_payload();
    case 2:
      *event.mutable_effective_time() = ToProto(now + absl::Hours(400 * 24));
      return;
    default:
      event.mutable_screening_result()->set_instrument("no-such-form");
      return;
  }
}

}  // namespace turnstone::faults
