#include "rules/engine/view.h"

#include <absl/time/time.h>

#include <algorithm>
#include <set>
#include <string_view>
#include <unordered_set>

#include "rules/engine/baseline.h"
#include "rules/measure/time_words.h"

namespace turnstone {
namespace {

bool IsScreeningWith(const Fact& fact, const std::string& instrument) {
  const auto* screening = fact.As<Screening>();
  return screening != nullptr &&
         screening->scale->definition().id() == instrument;
}

bool IsMissedContact(v1::VisitOutcomeKind outcome) {
  return outcome == v1::VISIT_OUTCOME_KIND_NO_ANSWER ||
         outcome == v1::VISIT_OUTCOME_KIND_REFUSED_AT_DOOR;
}

}  // namespace

View::View(const Site& site, const History& history, size_t at, absl::Time due)
    : site_(&site),
      history_(&history),
      at_(at),
      end_(history.FirstAtOrAfter(due + absl::Nanoseconds(1))),
      due_(due) {}

View View::InWords() const {
  View view = *this;
  view.in_words_ = true;
  return view;
}

const Fact* View::ScreeningOf(const std::string& instrument) const {
  if (IsScreeningWith(subject(), instrument)) return &subject();
  for (size_t i = end_; i-- > 0;) {
    const Fact& fact = history_->facts()[i];
    if (IsScreeningWith(fact, instrument)) return &fact;
  }
  return nullptr;
}

Forms View::ScreeningsUpTo(const Fact& last,
                           const std::string& instrument) const {
  Forms found;
  for (const Fact& fact : history_->facts()) {
    if (IsScreeningWith(fact, instrument)) found.push_back(&fact);
    if (&fact == &last) break;
  }
  return found;
}

Forms View::LatestScreenings(const Fact& last, const std::string& instrument,
                             size_t count) const {
  Forms found;
  found.reserve(count);
  const std::vector<Fact>& facts = history_->facts();
  for (auto i = &last - facts.data() + 1; i-- > 0;) {
    const Fact& fact = facts[static_cast<size_t>(i)];
    if (!IsScreeningWith(fact, instrument)) continue;
    found.push_back(&fact);
    if (found.size() < count) continue;
    std::reverse(found.begin(), found.end());
    return found;
  }
  return {};
}

const Fact* View::Baseline(const Fact& last,
                           const std::string& instrument) const {
  const Fact* const enrolment = Latest<EnrolmentFact>();
  const Fact* baseline = nullptr;
  for (const Fact& fact : history_->facts()) {
    if (&fact == &last) break;
    if (!IsScreeningWith(fact, instrument)) continue;
    baseline = LaterBaseline(baseline, fact, enrolment);
  }
  return baseline;
}

template <typename Kind>
const Fact* View::Latest() const {
  for (size_t i = end_; i-- > 0;) {
    const Fact& fact = history_->facts()[i];
    if (fact.As<Kind>() != nullptr) return &fact;
  }
  return nullptr;
}

bool View::Discharged() const {
  const Fact* discharge = Latest<DischargeFact>();
  const Fact* enrolment = Latest<EnrolmentFact>();
  return discharge != nullptr &&
         // At one and the same moment the net stays up.
         (enrolment == nullptr || enrolment->effective < discharge->effective);
}

v1::DischargeReason View::DischargeReason() const {
  return Latest<DischargeFact>()->As<DischargeFact>()->reason;
}

bool View::Enrolled() const {
  return Latest<EnrolmentFact>() != nullptr && !Discharged();
}

int View::PlannedVisits() const {
  const Fact* enrolment = Latest<EnrolmentFact>();
  if (enrolment == nullptr) return site_->config.planned_visits();
  return enrolment->As<EnrolmentFact>()->planned_visits.value_or(
      site_->config.planned_visits());
}

absl::Time View::EarlierProgrammeEnd() const {
  const Fact* enrolment = Latest<EnrolmentFact>();
  absl::Time ended = absl::InfinitePast();
  for (const Fact& fact : Facts()) {
    if (enrolment == nullptr || fact.effective > enrolment->effective) break;
    if (fact.As<DischargeFact>() != nullptr) ended = fact.effective;
  }
  return ended;
}

int View::AttendedVisits(absl::Time last) const {
  const absl::Time after = EarlierProgrammeEnd();
  std::unordered_set<std::string_view> attended;
  for (const Fact& fact : Facts()) {
    const auto* visit = fact.As<VisitResult>();
    if (fact.effective > last) break;
    if (fact.effective <= after) continue;
    if (visit != nullptr && visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED) {
      attended.insert(visit->visit);
    }
  }
  return static_cast<int>(attended.size());
}

int View::MissedInARow() const {
  // By visit id: the same visit reported by two systems is missed once.
  std::set<std::string> missed;
  for (size_t i = at_ + 1; i-- > 0;) {
    const auto* visit = history_->facts()[i].As<VisitResult>();
    if (visit == nullptr) continue;
    if (visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED) break;
    if (IsMissedContact(visit->outcome)) missed.insert(visit->visit);
  }
  return static_cast<int>(missed.size());
}

std::span<const Fact> View::Facts() const {
  return std::span(history_->facts()).first(end_);
}

absl::Time View::StartOfDay(absl::Time time, int days) const {
  const absl::TimeZone zone = site_->calendar.zone();
  const absl::CivilDay day(absl::ToCivilSecond(time, zone));
  return LocalToAbsolute(absl::CivilSecond(day - days), zone);
}

std::string View::Day(absl::Time time) const {
  return DayInWords(time, site_->calendar.zone());
}

}  // namespace turnstone
