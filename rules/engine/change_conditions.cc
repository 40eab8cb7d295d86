// Conditions that compare forms over time.
#include <absl/strings/str_cat.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"

namespace turnstone {
namespace {

// How much worse `later` may be than `earlier`, at least and at most, in
// points; negative where it is better.
Interval Worsening(const Screening& earlier, const Screening& later) {
  const Interval a = earlier.score.total;
  const Interval b = later.score.total;
  if (later.scale->definition().direction() == v1::DIRECTION_HIGHER_IS_BETTER) {
    return {a.low - b.high, a.high - b.low};
  }
  return {b.low - a.high, b.high - a.low};
}

Truth AtLeast(Interval value, int least) {
  if (value.low >= least) return v1::TRUTH_TRUE;
  if (value.high < least) return v1::TRUTH_FALSE;
  return v1::TRUTH_UNKNOWN;
}

std::string ShortTotal(const Fact& fact) {
  const Interval total = fact.As<Screening>()->score.total;
  return total.IsPoint() ? absl::StrCat(total.low)
                         : absl::StrCat(total.low, "-", total.high);
}

Observation NothingToCompare(const std::string& instrument) {
  return {v1::TRUTH_FALSE,
          absl::StrCat("there is no earlier ", instrument, " to compare with")};
}

}  // namespace

Observation ObserveChange(const v1::ChangeCondition& condition,
                          const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  if (now == nullptr) return NothingToCompare(instrument);
  const Fact* then = nullptr;
  if (condition.than() == v1::COMPARED_WITH_BASELINE) {
    then = view.Baseline(*now, instrument);
  } else {
    const auto all = view.ScreeningsUpTo(*now, instrument);
    if (all.size() >= 2) then = all[all.size() - 2];
  }
  if (then == nullptr) return NothingToCompare(instrument);
  const auto& form = *now->As<Screening>();
  const Interval worse = Worsening(*then->As<Screening>(), form);
  const int least = condition.at_least().value();
  const Truth truth = AtLeast(worse, least);
  return {truth,
          absl::StrCat("the ", form.scale->definition().name(),
                       " total went from ", ShortTotal(*then), " on ",
                       view.Day(then->effective), " to ", ShortTotal(*now),
                       " on ", view.Day(now->effective), ", ", Verdict(truth),
                       " ", Count(least, "point"), " worse or more")};
}

Observation ObserveRises(const v1::RisesCondition& condition,
                         const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  if (now == nullptr) return NothingToCompare(instrument);
  const auto times = static_cast<size_t>(condition.times().value());
  const auto all = view.ScreeningsUpTo(*now, instrument);
  if (all.size() < times + 1) {
    return {v1::TRUTH_FALSE, absl::StrCat("there are too few ", instrument,
                                          " totals to compare")};
  }
  Truth truth = v1::TRUTH_TRUE;
  std::string totals = ShortTotal(*all[all.size() - times - 1]);
  for (size_t i = all.size() - times; i < all.size(); ++i) {
    truth = And(truth, AtLeast(Worsening(*all[i - 1]->As<Screening>(),
                                         *all[i]->As<Screening>()),
                               1));
    absl::StrAppend(&totals, ", ", ShortTotal(*all[i]));
  }
  const auto& form = *now->As<Screening>();
  return {truth, absl::StrCat("the latest ", form.scale->definition().name(),
                              " totals are ", totals, ", ", Verdict(truth),
                              " worse each time")};
}

Observation ObserveSelfHarmEarlier(const v1::SelfHarmEarlier& condition,
                                   const View& view) {
  const int days = condition.within_days().value();
  const absl::Time since = view.due() - absl::Hours(24) * days;
  Truth truth = v1::TRUTH_FALSE;
  const Fact* shown = nullptr;
  for (const Fact* fact : view.Facts()) {
    const auto* form = fact->As<Screening>();
    if (form == nullptr || fact->effective < since) continue;
    const std::optional<size_t> item = form->scale->SelfHarmItem();
    if (!item) continue;
    const std::optional<int> points = form->score.points[*item];
    const Truth next = points ? TruthOf(*points >= 1) : v1::TRUTH_UNKNOWN;
    if (next >= truth && next != v1::TRUTH_FALSE) shown = fact;
    truth = Or(truth, next);
  }
  if (truth == v1::TRUTH_FALSE) {
    return {truth, absl::StrCat("no self-harm item was positive in the last ",
                                Count(days, "day"))};
  }
  return {truth,
          absl::StrCat(
              "the self-harm item on ", view.Day(shown->effective),
              truth == v1::TRUTH_TRUE ? " was positive" : " has no answer")};
}

Observation ObserveScreenedWithin(const v1::ScreenedWithin& condition,
                                  const View& view) {
  const int days = condition.days().value();
  const absl::Time since = view.subject().effective - absl::Hours(24) * days;
  for (const Fact* fact : view.Facts()) {
    const auto* form = fact->As<Screening>();
    if (form == nullptr || fact->effective < since) continue;
    const auto& wanted = condition.instrument();
    if (std::find(wanted.begin(), wanted.end(),
                  form->scale->definition().id()) == wanted.end()) {
      continue;
    }
    return {v1::TRUTH_TRUE,
            absl::StrCat("a ", form->scale->definition().name(),
                         " was done on ", view.Day(fact->effective))};
  }
  return {
      v1::TRUTH_FALSE,
      absl::StrCat("no closing screening was done within ", Count(days, "day"),
                   " of ", view.Day(view.subject().effective), " or since")};
}

}  // namespace turnstone
