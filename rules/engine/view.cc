#include "rules/engine/view.h"

#include <absl/time/time.h>

#include <set>

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

const Fact* View::ScreeningOf(const std::string& instrument) const {
  if (IsScreeningWith(subject(), instrument)) return &subject();
  for (size_t i = end_; i-- > 0;) {
    const Fact& fact = history_->facts()[i];
    if (IsScreeningWith(fact, instrument)) return &fact;
  }
  return nullptr;
}

std::vector<const Fact*> View::ScreeningsUpTo(
    const Fact& last, const std::string& instrument) const {
  std::vector<const Fact*> found;
  for (const Fact& fact : history_->facts()) {
    if (IsScreeningWith(fact, instrument)) found.push_back(&fact);
    if (&fact == &last) break;
  }
  return found;
}

std::vector<const Fact*> View::LatestScreenings(const Fact& last,
                                                const std::string& instrument,
                                                size_t count) const {
  std::vector<const Fact*> found = ScreeningsUpTo(last, instrument);
  if (found.size() < count) return {};
  found.erase(found.begin(), found.end() - static_cast<std::ptrdiff_t>(count));
  return found;
}

const Fact* View::Baseline(const Fact& last,
                           const std::string& instrument) const {
  std::vector<const Fact*> earlier = ScreeningsUpTo(last, instrument);
  earlier.pop_back();
  return BaselineAmong(earlier, Latest<EnrolmentFact>());
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
  for (const Fact* fact : Facts()) {
    if (enrolment == nullptr || fact->effective > enrolment->effective) break;
    if (fact->As<DischargeFact>() != nullptr) ended = fact->effective;
  }
  return ended;
}

int View::AttendedVisits(absl::Time last) const {
  const absl::Time after = EarlierProgrammeEnd();
  std::set<std::string> attended;
  for (const Fact* fact : Facts()) {
    const auto* visit = fact->As<VisitResult>();
    if (fact->effective > last) break;
    if (fact->effective <= after) continue;
    if (visit != nullptr && visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED) {
      attended.insert(visit->visit);
    }
  }
  return static_cast<int>(attended.size());
}

int View::MissedInARow() const {
  // By visit id: the same visit reported by two systems is missed once.
  std::set<std::string> missed;
  for (size_t i = 0; i <= at_; ++i) {
    const auto* visit = history_->facts()[i].As<VisitResult>();
    if (visit == nullptr) continue;
    if (visit->outcome == v1::VISIT_OUTCOME_KIND_ATTENDED) missed.clear();
    if (IsMissedContact(visit->outcome)) missed.insert(visit->visit);
  }
  return static_cast<int>(missed.size());
}

std::vector<const Fact*> View::Facts() const {
  std::vector<const Fact*> facts;
  facts.reserve(end_);
  for (size_t i = 0; i < end_; ++i) facts.push_back(&history_->facts()[i]);
  return facts;
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
