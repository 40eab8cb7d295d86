#include "rules/engine/agenda.h"

#include <algorithm>
#include <limits>

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

}  // namespace

std::vector<Question> QuestionsAbout(const Fact& fact, const Site& site) {
  std::vector<Question> questions;
  for (int i = 0; i < site.rules.rule_size(); ++i) {
    const v1::Rule& rule = site.rules.rule(i);
    if (!Concerns(rule.when(), fact)) continue;
    Question question{Due(fact, rule.when(), site.calendar), fact.key, i, true};
    const v1::OnUnknown& on_unknown = rule.on_unknown();
    if (on_unknown.has_wait_then_raise()) {
      Question again = question;
      again.due = site.calendar.EndOfWorkingDay(
          question.due, on_unknown.wait_then_raise().working_days().value());
      again.first_asked = question.due;
      question.final = false;
      questions.push_back(again);
    }
    questions.push_back(question);
  }
  return questions;
}

void Agenda::Forget(const EventKey& fact) {
  const auto known = by_fact_.find(fact);
  if (known == by_fact_.end()) return;
  for (const Question& question : known->second) questions_.erase(question);
  by_fact_.erase(known);
}

void Agenda::Refresh(const History& history, absl::Time from,
                     const std::optional<EventKey>& withdrawn,
                     const Site& site) {
  if (withdrawn) Forget(*withdrawn);
  for (size_t i = history.FirstAtOrAfter(from); i < history.facts().size();
       ++i) {
    const Fact& fact = history.facts()[i];
    Forget(fact.key);
    for (const Question& question : QuestionsAbout(fact, site)) {
      if (question.due <= fact.effective) continue;
      questions_.insert(question);
      by_fact_[fact.key].push_back(question);
    }
  }
}

std::vector<Question> Agenda::Between(absl::Time after,
                                      absl::Time until) const {
  std::vector<Question> found;
  for (auto next = questions_.upper_bound(
           {after, {"\xff", "\xff"}, std::numeric_limits<int>::max(), true});
       next != questions_.end() && next->due <= until; ++next) {
    found.push_back(*next);
  }
  return found;
}

absl::Time Agenda::NextAfter(absl::Time time) const {
  const auto next = questions_.upper_bound(
      {time, {"\xff", "\xff"}, std::numeric_limits<int>::max(), true});
  return next == questions_.end() ? absl::InfiniteFuture() : next->due;
}

}  // namespace turnstone
