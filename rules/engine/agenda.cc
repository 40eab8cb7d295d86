#include "rules/engine/agenda.h"

#include <algorithm>

namespace turnstone {
namespace {

bool Concerns(const v1::Occasion& when, const Fact& fact) {
  switch (when.event_case()) {
    case v1::Occasion::kScreening: {
      const auto* form = fact.As<Screening>();
      if (form == nullptr) return false;
      const auto& wanted = when.screening().instrument();
      return std::find(wanted.begin(), wanted.end(),
                       form->scale->definition().id()) != wanted.end();
    }
    case v1::Occasion::kVisitPlanned:
      return fact.As<PlannedVisit>() != nullptr;
    case v1::Occasion::kVisitOutcome:
      return fact.As<VisitResult>() != nullptr;
    case v1::Occasion::kPracticeReport:
      return fact.As<Practice>() != nullptr;
    case v1::Occasion::kEnrolment:
      return fact.As<EnrolmentFact>() != nullptr;
    case v1::Occasion::kDischarge:
      return fact.As<DischargeFact>() != nullptr;
    case v1::Occasion::kContact:
      return IsContact(fact);
    case v1::Occasion::EVENT_NOT_SET:
      break;
  }
  return false;
}

// What waiting is counted from: the planned start of a visit, else the fact.
absl::Time Anchor(const Fact& fact) {
  const auto* plan = fact.As<PlannedVisit>();
  return plan == nullptr ? fact.effective
                         : std::max(plan->start, fact.effective);
}

bool IsPutLater(const v1::Occasion& when) {
  return when.has_after_working_days() || when.has_after_days();
}

absl::Time Due(const Fact& fact, const v1::Occasion& when,
               const WorkCalendar& calendar) {
  if (when.has_after_working_days()) {
    return calendar.EndOfWorkingDay(Anchor(fact),
                                    when.after_working_days().value());
  }
  if (when.has_after_days()) {
    return calendar.EndOfDayAfter(Anchor(fact), when.after_days().value());
  }
  return fact.effective;
}

// Adds those about `fact` that are put later than it happened.
void TurnsLater(const Fact& fact, const Site& site, std::vector<Turn>& turns) {
  int i = -1;
  for (const v1::Rule& rule : site.rules.rule()) {
    ++i;
    const bool waits = rule.on_unknown().has_wait_then_raise();
    const bool later = IsPutLater(rule.when());
    if ((!waits && !later) || !Concerns(rule.when(), fact)) continue;
    const absl::Time due = Due(fact, rule.when(), site.calendar);
    if (waits) {
      const int days =
          rule.on_unknown().wait_then_raise().working_days().value();
      turns.push_back({site.calendar.EndOfWorkingDay(due, days), i, true, due});
    }
    if (later) turns.push_back({due, i, !waits});
  }
}

bool IsDueAfter(absl::Time time, const Agenda::Entry& entry) {
  return time < entry.turn.due;
}

}  // namespace

void TurnsAtOnce(const Fact& fact, size_t at, const Site& site,
                 std::vector<Turn>& turns) {
  int i = -1;
  for (const v1::Rule& rule : site.rules.rule()) {
    ++i;
    if (IsPutLater(rule.when()) || !Concerns(rule.when(), fact)) continue;
    const bool waits = rule.on_unknown().has_wait_then_raise();
    turns.push_back({fact.effective, i, !waits, std::nullopt, at});
  }
}

std::vector<Question> QuestionsAbout(const Fact& fact, const Site& site) {
  std::vector<Turn> turns;
  TurnsAtOnce(fact, 0, site, turns);
  TurnsLater(fact, site, turns);
  std::vector<Question> questions;
  questions.reserve(turns.size());
  for (const Turn& turn : turns) {
    questions.push_back(
        {turn.due, fact.key, turn.rule, turn.final, turn.first_asked});
  }
  return questions;
}

void Agenda::Add(const Fact& fact, const Site& site) {
  std::vector<Turn> turns;
  TurnsLater(fact, site, turns);
  for (const Turn& turn : turns) {
    const auto place = std::upper_bound(entries_.begin(), entries_.end(),
                                        turn.due, IsDueAfter);
    entries_.insert(place, {turn, fact.effective, fact.arrival});
  }
}

void Agenda::Refresh(const History& history, absl::Time from,
                     const std::optional<EventKey>& withdrawn,
                     const Site& site) {
  if (withdrawn) {
    std::erase_if(entries_, [&history](const Entry& entry) {
      return !history.FindArrival(entry.arrival, entry.effective);
    });
  }
  int64_t last = last_arrival_;
  for (size_t i = history.FirstAtOrAfter(from); i < history.facts().size();
       ++i) {
    const Fact& fact = history.facts()[i];
    if (fact.arrival > last_arrival_) Add(fact, site);
    last = std::max(last, fact.arrival);
  }
  last_arrival_ = last;
}

std::span<const Agenda::Entry> Agenda::EntriesBetween(absl::Time after,
                                                      absl::Time until) const {
  const auto first =
      std::upper_bound(entries_.begin(), entries_.end(), after, IsDueAfter);
  return {first, std::upper_bound(first, entries_.end(), until, IsDueAfter)};
}

std::vector<Question> Agenda::Between(const History& history, absl::Time after,
                                      absl::Time until) const {
  std::vector<Question> found;
  for (const Entry& entry : EntriesBetween(after, until)) {
    const auto at = history.FindArrival(entry.arrival, entry.effective);
    if (!at) continue;
    const Turn& turn = entry.turn;
    found.push_back({turn.due, history.facts()[*at].key, turn.rule, turn.final,
                     turn.first_asked});
  }
  std::sort(found.begin(), found.end());
  return found;
}

absl::Time Agenda::NextAfter(absl::Time time) const {
  const auto later = EntriesBetween(time, absl::InfiniteFuture());
  return later.empty() ? absl::InfiniteFuture() : later.front().turn.due;
}

}  // namespace turnstone
