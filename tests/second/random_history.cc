#include "tests/second/random_history.h"

#include <algorithm>
#include <iterator>
#include <map>

#include "rules/measure/proto_time.h"
#include "tests/second/dice.h"
#include "tests/second/random_event.h"
#include "tests/support/events.h"

namespace turnstone::second {
namespace {

// Weekdays and weekends, holidays (pebble-bay: 1 February, 17 and 29 March
// 2027), the nights on which Dublin's clocks change (28 March, 31 October
// 2027) and a leap day.
constexpr const char* kStarts[] = {
    "2027-01-04T10:00:00Z", "2027-01-29T16:59:59Z", "2027-03-16T17:00:00Z",
    "2027-03-27T23:30:00Z", "2027-03-28T00:59:59Z", "2027-10-30T22:30:00Z",
    "2027-10-31T00:30:00Z", "2028-02-28T09:00:00Z", "2027-06-18T12:00:00Z"};

// At the same moment, minutes, days or weeks later, or before.
absl::Duration Step(Dice& dice) {
  const int kind = dice.Between(1, 100);
  if (kind <= 12) return absl::ZeroDuration();
  if (kind <= 25) return absl::Minutes(dice.Between(1, 600));
  if (kind <= 55) return absl::Hours(24 * dice.Between(1, 4));
  if (kind <= 80) return absl::Hours(24 * 7);
  if (kind <= 90) return absl::Hours(24 * dice.Between(8, 45));
  if (kind <= 95) return absl::Hours(24 * dice.Between(50, 370));
  return -absl::Hours(dice.Between(1, 24 * 20));
}

v1::Event Named(absl::Time when, int number, Dice& dice) {
  v1::Event event =
      EventAt(std::string(1, static_cast<char>('a' + dice.Between(0, 25))) +
                  std::to_string(number),
              when);
  if (dice.Once(30)) event.set_source("urn:other");
  return event;
}

// Another event of the same kind in the place of `old`.
v1::Event InsteadOf(const v1::Event& old, const Life& life, Dice& dice) {
  v1::Event other = old;
  const absl::Duration moved =
      dice.Once(50) ? absl::ZeroDuration() : Step(dice);
  *other.mutable_effective_time() =
      ToProto(FromProto(old.effective_time()) + moved);
  do {
    other.clear_payload();
    Fill(life, dice, other);
  } while (other.payload_case() != old.payload_case());
  return other;
}

// More forms with one instrument than the second evaluator tries all orders of.
bool HasTooManyForms(const v1::Configuration& configuration,
                     const std::vector<Recorded>& history) {
  std::map<std::string, std::string> id_of;
  for (const v1::Instrument& one : configuration.instrument()) {
    id_of[one.id()] = id_of[one.panel_code()] = one.id();
  }
  std::map<std::string, int> forms;
  int most = 0;
  for (const Recorded& recorded : history) {
    for (const v1::Event* event :
         {&recorded.event, &recorded.event.correction().replacement()}) {
      if (!event->has_screening_result()) continue;
      const std::string& name = event->screening_result().instrument();
      most = std::max(most, ++forms[id_of[name]]);
    }
  }
  return most > 8;
}

// Mends one of the events recorded so far.
v1::Correction Mend(const std::vector<Recorded>& history, const Life& life,
                    Dice& dice) {
  std::vector<v1::Event> facts;
  for (const Recorded& recorded : history) {
    if (!recorded.event.has_correction()) facts.push_back(recorded.event);
  }
  const v1::Event& mended = dice.OneOf(facts);
  v1::Correction correction;
  correction.set_corrected_source(mended.source());
  correction.set_corrected_event_id(mended.event_id());
  correction.set_reason("typed wrongly");
  if (dice.Once(35)) {
    correction.set_withdrawn(true);
  } else {
    *correction.mutable_replacement() = InsteadOf(mended, life, dice);
  }
  return correction;
}

absl::Time HappenedAt(const v1::Event& event) {
  const v1::Event& what = event.correction().has_replacement()
                              ? event.correction().replacement()
                              : event;
  return FromProto(what.effective_time());
}

}  // namespace

std::vector<Recorded> RandomHistory(const v1::Configuration& configuration,
                                    uint64_t seed) {
  Dice dice(seed);
  const Life life = RandomLife(configuration, dice);
  absl::Time happened = At(kStarts[dice.Between(0, std::size(kStarts) - 1)]);
  absl::Time clock = happened;
  const int count = dice.Between(1, 14);
  std::vector<Recorded> history;
  for (int number = 0; number < count; ++number) {
    happened += Step(dice);
    v1::Event event = Named(happened, number, dice);
    if (number > 0 && dice.Once(15)) {
      *event.mutable_correction() = Mend(history, life, dice);
    } else if (number == 0 && dice.Once(40)) {
      Enrol(dice, event);
    } else {
      Fill(life, dice, event);
    }
    // Recorded once it has happened; a correction's event says when it was
    // made.
    clock = std::max({clock, happened, HappenedAt(event)});
    if (dice.Once(20)) clock += Step(dice) + absl::Hours(24 * 20);
    history.push_back({std::move(event), clock});
    if (!HasTooManyForms(configuration, history)) continue;
    history.pop_back();
    break;
  }
  return history;
}

std::vector<Recorded> Without(std::vector<Recorded> history, size_t index) {
  const v1::Event gone = history[index].event;
  const auto falls = [&](const Recorded& recorded) {
    const v1::Event& event = recorded.event;
    const v1::Correction& correction = event.correction();
    return (event.source() == gone.source() &&
            event.event_id() == gone.event_id()) ||
           (correction.corrected_source() == gone.source() &&
            correction.corrected_event_id() == gone.event_id());
  };
  history.erase(std::remove_if(history.begin(), history.end(), falls),
                history.end());
  return history;
}

}  // namespace turnstone::second
