// Conditions on how totals have gone from form to form.
#include <algorithm>

#include "tests/second/against.h"
#include "tests/second/chance.h"

namespace turnstone::second {
namespace {

size_t LengthOf(bool given, const v1::Number& number) {
  return given ? static_cast<size_t>(number.value()) : 1;
}

// Points by which the participant is worse off at `after`.
int Worse(const Form& form, int before, int after) {
  return form.higher_is_worse ? after - before : before - after;
}

// `sign` 1: worse; -1: better.
v1::Truth ChangedBy(const v1::ChangeCondition& change, int sign,
                    const Asked& asked) {
  Row row = Forms(asked, change.instrument());
  const size_t length = LengthOf(change.has_in_a_row(), change.in_a_row());
  if (row.size() < length) return v1::TRUTH_FALSE;
  std::vector<v1::Truth> answers;
  for (size_t i = 0; i < length; ++i) {
    const Form& later = *row.back()->form;
    const auto earlier = HeldAgainst(change.than(), row, asked);
    if (!earlier) return v1::TRUTH_FALSE;
    answers.push_back(OfEachPair(*earlier, later, [&](int before, int after) {
      const int points = sign * Worse(later, before, after);
      if (change.has_at_least()) return points >= change.at_least().value();
      return points >= 1 &&
             100 * points >= change.at_least_percent().value() * before;
    }));
    row.pop_back();
  }
  return EveryOne(answers);
}

v1::Truth Rises(const v1::RisesCondition& rises, const Asked& asked) {
  const Row row = Forms(asked, rises.instrument());
  const auto times = static_cast<size_t>(rises.times().value());
  if (row.size() < times + 1) return v1::TRUTH_FALSE;
  std::vector<v1::Truth> answers;
  for (size_t i = row.size() - times; i < row.size(); ++i) {
    const Form& before = *row[i - 1]->form;
    const Form& after = *row[i]->form;
    answers.push_back(OfEachPair(
        {before.low, before.high}, after,
        [&](int first, int then) { return Worse(after, first, then) >= 1; }));
  }
  return EveryOne(answers);
}

v1::Truth GoesOneWay(const v1::TrendCondition& trend, const Asked& asked) {
  const Row row = Forms(asked, trend.instrument());
  if (row.size() < 2) return v1::TRUTH_FALSE;
  const Fact* baseline = Baseline(Row(row.begin(), row.end() - 1), asked);
  if (baseline == nullptr) return v1::TRUTH_FALSE;
  std::vector<Possible> totals;
  absl::Time last = baseline->when;
  int moment = 0;
  for (const Fact* fact : row) {
    if (fact->when < baseline->when) continue;
    if (fact->when > last) ++moment;
    last = fact->when;
    totals.push_back({fact->form->low, fact->form->high, moment});
  }
  const bool worsening = trend.direction() == v1::TREND_DIRECTION_WORSENING;
  return BeyondChance(totals, worsening == baseline->form->higher_is_worse,
                      trend.p_at_most().value());
}

// The first outcome that applies.
v1::CourseOutcome OutcomeOf(const v1::OutcomeCondition& outcome, int before,
                            int after) {
  const int reliable = outcome.reliable_change().value();
  const int fall = before - after;
  if (-fall >= reliable) return v1::COURSE_OUTCOME_WORSE;
  if (after <= outcome.remission_at_most().value()) {
    return v1::COURSE_OUTCOME_REMISSION;
  }
  if (100 * fall >= outcome.response_percent().value() * before) {
    return v1::COURSE_OUTCOME_RESPONSE;
  }
  return fall >= reliable ? v1::COURSE_OUTCOME_PARTIAL
                          : v1::COURSE_OUTCOME_NO_CHANGE;
}

v1::Truth CameOutAs(const v1::OutcomeCondition& outcome, const Asked& asked) {
  const Row row = Forms(asked, outcome.instrument());
  if (row.empty()) return v1::TRUTH_FALSE;
  const auto earlier = HeldAgainst(v1::COMPARED_WITH_BASELINE, row, asked);
  if (!earlier) return v1::TRUTH_FALSE;
  return OfEachPair(*earlier, *row.back()->form, [&](int before, int after) {
    const v1::CourseOutcome is = OutcomeOf(outcome, before, after);
    return std::count(outcome.is().begin(), outcome.is().end(), is) > 0;
  });
}

v1::Truth SoMany(const v1::ScreeningCount& count, const Asked& asked) {
  int sure = 0;
  int perhaps = 0;
  for (const Fact* fact : Forms(asked, count.instrument())) {
    const bool any = !count.has_total_at_most();
    const int most = count.total_at_most().value();
    if (any || fact->form->high <= most) ++sure;
    if (any || fact->form->low <= most) ++perhaps;
  }
  return OfEach(sure, perhaps, [&](int number) {
    return Say(number >= count.at_least().value());
  });
}

}  // namespace

std::optional<v1::Truth> OfTheCourse(const v1::Condition& condition,
                                     const Asked& asked) {
  switch (condition.kind_case()) {
    case v1::Condition::kWorseBy:
      return ChangedBy(condition.worse_by(), 1, asked);
    case v1::Condition::kBetterBy:
      return ChangedBy(condition.better_by(), -1, asked);
    case v1::Condition::kWorseInARow:
      return Rises(condition.worse_in_a_row(), asked);
    case v1::Condition::kTrend:
      return GoesOneWay(condition.trend(), asked);
    case v1::Condition::kOutcome:
      return CameOutAs(condition.outcome(), asked);
    case v1::Condition::kScreenings:
      return SoMany(condition.screenings(), asked);
    default:
      return std::nullopt;
  }
}

}  // namespace turnstone::second
