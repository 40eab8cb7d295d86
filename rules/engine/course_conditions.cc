// Conditions on the whole course of an instrument's totals.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"
#include "rules/measure/change.h"
#include "rules/measure/trend_truth.h"

namespace turnstone {
namespace {

// "9, 12, 8-14".
std::string ShortTotals(const Forms& forms) {
  return absl::StrJoin(forms, ", ", [](std::string* out, const Fact* form) {
    out->append(ShortTotal(*form));
  });
}

}  // namespace

Observation ObserveRises(const v1::RisesCondition& condition,
                         const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  if (now == nullptr)
    return Saw(v1::TRUTH_FALSE, view,
               [&] { return NothingEarlier(instrument); });
  const auto times = static_cast<size_t>(condition.times().value());
  const auto all = view.LatestScreenings(*now, instrument, times + 1);
  if (all.empty()) {
    return Saw(v1::TRUTH_FALSE, view, [&] {
      return absl::StrCat("there are too few ", instrument,
                          " totals to compare");
    });
  }
  const auto& form = *now->As<Screening>();
  Truth truth = v1::TRUTH_TRUE;
  for (size_t i = 1; i < all.size(); ++i) {
    const Interval worse =
        Worsening(*form.scale, all[i - 1]->As<Screening>()->score.total,
                  all[i]->As<Screening>()->score.total);
    truth = And(truth, AtLeast(worse, 1));
  }
  return Saw(truth, view, [&] {
    return absl::StrCat("the latest ", form.scale->definition().name(),
                        " totals are ", ShortTotals(all), ", ", Verdict(truth),
                        " worse each time");
  });
}

Observation ObserveTrend(const v1::TrendCondition& condition,
                         const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  const Fact* baseline =
      now == nullptr ? nullptr : view.Baseline(*now, instrument);
  if (baseline == nullptr)
    return Saw(v1::TRUTH_FALSE, view,
               [&] { return NothingEarlier(instrument); });
  std::vector<TimedInterval> series;
  Forms forms;
  for (const Fact* fact : view.ScreeningsUpTo(*now, instrument)) {
    if (fact->effective < baseline->effective) continue;
    const absl::Duration since = fact->effective - baseline->effective;
    series.push_back({absl::FDivDuration(since, absl::Hours(24)),
                      fact->As<Screening>()->score.total});
    forms.push_back(fact);
  }
  const Scale& scale = *now->As<Screening>()->scale;
  const bool worsening = condition.direction() == v1::TREND_DIRECTION_WORSENING;
  const bool higher_is_worse =
      scale.definition().direction() == v1::DIRECTION_HIGHER_IS_WORSE;
  const double p = condition.p_at_most().value() / 1000.0;
  const Truth truth = GoesOneWay(series, worsening == higher_is_worse, p);
  return Saw(truth, view, [&] {
    return absl::StrCat(
        "the ", scale.definition().name(), " totals since ",
        view.Day(baseline->effective), " are ", ShortTotals(forms), ", ",
        Verdict(truth), worsening ? " worse" : " better",
        " more steadily than chance would have it (p ", p, " or less)");
  });
}

Observation ObserveOutcome(const v1::OutcomeCondition& condition,
                           const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  const Fact* then = now == nullptr ? nullptr : view.Baseline(*now, instrument);
  if (then == nullptr)
    return Saw(v1::TRUTH_FALSE, view,
               [&] { return NothingEarlier(instrument); });
  const std::vector<v1::CourseOutcome> possible = PossibleOutcomes(
      then->As<Screening>()->score.total, now->As<Screening>()->score.total,
      {condition.remission_at_most().value(),
       condition.response_percent().value(),
       condition.reliable_change().value()});
  const auto wanted = std::count_if(
      possible.begin(), possible.end(), [&](v1::CourseOutcome outcome) {
        return std::count(condition.is().begin(), condition.is().end(),
                          outcome) > 0;
      });
  Truth truth = v1::TRUTH_UNKNOWN;
  if (wanted == 0) truth = v1::TRUTH_FALSE;
  if (wanted == std::ssize(possible)) truth = v1::TRUTH_TRUE;
  const auto words = [](std::string* out, v1::CourseOutcome outcome) {
    out->append(CourseInWords(outcome));
  };
  return Saw(truth, view, [&] {
    return absl::StrCat(
        "the ", now->As<Screening>()->scale->definition().name(),
        " total went from ", ShortTotal(*then), " on ",
        view.Day(then->effective), " to ", ShortTotal(*now), " on ",
        view.Day(now->effective), ": ", absl::StrJoin(possible, " or ", words));
  });
}

}  // namespace turnstone
