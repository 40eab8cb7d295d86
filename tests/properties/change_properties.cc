// What is said of a form with answers left out must still be true once they are
// filled in, however that is done: Kleene's strong logic asks no less.
#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <limits>

#include "rules/measure/change.h"
#include "tests/properties/partial_forms.h"

namespace turnstone::testing {
namespace {

constexpr int kAnyNumber = std::numeric_limits<int>::max();

// `before` is said of the form with blanks, `after` of the same completed.
void RequireKept(Truth before, Truth after) {
  RC_ASSERT(after != v1::TRUTH_UNKNOWN);
  RC_ASSERT(before == v1::TRUTH_UNKNOWN || before == after);
}

// A number near the totals of the scale.
int DrawPoints(const Scale& scale) {
  return *rc::gen::inRange(scale.Range().low - 2, scale.Range().high + 3);
}

RC_GTEST_PROP(PartialForm, WithinIsKept, ()) {
  const Scale& scale = DrawScale();
  const PartialForm form = DrawForm(scale, kAnyNumber);
  const int low = DrawPoints(scale);
  const Interval range = {low, low + *rc::gen::inRange(0, 15)};
  RequireKept(Within(PartialTotal(form), range),
              Within(CompleteTotal(form), range));
}

RC_GTEST_PROP(PartialForm, WorseningIsKept, ()) {
  const Scale& scale = DrawScale();
  const PartialForm earlier = DrawForm(scale, kAnyNumber);
  const PartialForm later = DrawForm(scale, kAnyNumber);
  const Interval before =
      Worsening(scale, PartialTotal(earlier), PartialTotal(later));
  const Interval after =
      Worsening(scale, CompleteTotal(earlier), CompleteTotal(later));
  RC_ASSERT(after.IsPoint());
  RC_ASSERT(before.low <= after.low && after.low <= before.high);
  const int least = *rc::gen::inRange(-12, 13);
  RequireKept(AtLeast(before, least), AtLeast(after, least));
}

RC_GTEST_PROP(PartialForm, PercentagesAreKept, ()) {
  const Scale& scale = DrawScale();
  const PartialForm earlier = DrawForm(scale, kAnyNumber);
  const PartialForm later = DrawForm(scale, kAnyNumber);
  const int percent = *rc::gen::inRange(1, 101);
  for (const auto compare : {&FellByPercent, &RoseByPercent}) {
    RequireKept(compare(PartialTotal(earlier), PartialTotal(later), percent),
                compare(CompleteTotal(earlier), CompleteTotal(later), percent));
  }
}

RC_GTEST_PROP(PartialForm, OutcomeIsOneOfThePossible, ()) {
  const Scale& scale = DrawScale();
  const PartialForm baseline = DrawForm(scale, kAnyNumber);
  const PartialForm latest = DrawForm(scale, kAnyNumber);
  const OutcomeThresholds thresholds = {
      .remission_at_most = DrawPoints(scale),
      .response_percent = *rc::gen::inRange(1, 101),
      .reliable_change = *rc::gen::inRange(1, 12)};
  const auto possible = PossibleOutcomes(PartialTotal(baseline),
                                         PartialTotal(latest), thresholds);
  const auto outcome = PossibleOutcomes(CompleteTotal(baseline),
                                        CompleteTotal(latest), thresholds);
  RC_ASSERT(outcome.size() == 1U);
  RC_ASSERT(std::count(possible.begin(), possible.end(), outcome[0]) == 1);
}

// Moves the blanks' ticks on to the next way to fill them in; false after the
// last.
bool Next(PartialForm& form) {
  for (size_t item = 0; item < form.ticks.size(); ++item) {
    if (!form.blank[item]) continue;
    if (++form.ticks[item] < form.scale->AnswersTo(item).size()) return true;
    form.ticks[item] = 0;
  }
  return false;
}

RC_GTEST_PROP(PartialForm, RangeIsFromTheLowestToTheHighestCompletion, ()) {
  PartialForm form = DrawForm(DrawScale(), 3);
  for (size_t item = 0; item < form.ticks.size(); ++item) {
    if (form.blank[item]) form.ticks[item] = 0;
  }
  Interval reached = CompleteTotal(form);
  do {
    const Interval total = CompleteTotal(form);
    RC_ASSERT(total.IsPoint());
    reached.low = std::min(reached.low, total.low);
    reached.high = std::max(reached.high, total.high);
  } while (Next(form));
  const Interval partial = PartialTotal(form);
  RC_ASSERT(partial.low == reached.low);
  RC_ASSERT(partial.high == reached.high);
}

}  // namespace
}  // namespace turnstone::testing
