#include "tests/second/facts.h"

#include <algorithm>
#include <tuple>

namespace turnstone::second {
namespace {

absl::Time WhenOf(const v1::Event& event) {
  return absl::FromUnixSeconds(event.effective_time().seconds()) +
         absl::Nanoseconds(event.effective_time().nanos());
}

// What `event` says after everything recorded; null if it was withdrawn. The
// latest correction counts.
const v1::Event* AsItStands(const v1::Event& event,
                            const std::vector<v1::Event>& recorded) {
  const v1::Event* stands = &event;
  for (const v1::Event& other : recorded) {
    if (!other.has_correction()) continue;
    const v1::Correction& correction = other.correction();
    if (correction.corrected_source() != event.source()) continue;
    if (correction.corrected_event_id() != event.event_id()) continue;
    stands = correction.has_replacement() ? &correction.replacement() : nullptr;
  }
  return stands;
}

}  // namespace

std::vector<Fact> FactsFrom(const World& world,
                            const std::vector<v1::Event>& recorded) {
  std::vector<Fact> facts;
  for (const v1::Event& event : recorded) {
    if (event.has_correction()) continue;
    const v1::Event* stands = AsItStands(event, recorded);
    if (stands == nullptr) continue;
    Fact fact{WhenOf(*stands), event.source(), event.event_id(), stands, {}};
    if (stands->has_screening_result()) {
      fact.form = ReadForm(world, stands->screening_result());
    }
    facts.push_back(std::move(fact));
  }
  std::sort(facts.begin(), facts.end(), [](const Fact& a, const Fact& b) {
    return std::tie(a.when, a.source, a.id) < std::tie(b.when, b.source, b.id);
  });
  return facts;
}

}  // namespace turnstone::second
