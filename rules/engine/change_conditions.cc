// Conditions that hold a form against an earlier one.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"
#include "rules/measure/change.h"

namespace turnstone {
namespace {

// The two ways a total can go, for a condition that reads the same otherwise.
struct Way {
  const char* word;  // "worse"
  bool worse;
};
constexpr Way kTowardsWorse{"worse", true};
constexpr Way kTowardsBetter{"better", false};

// Whether `now` differs from `then` by as much as the condition asks.
Truth Differs(const v1::ChangeCondition& condition, const Way& way,
              const Fact& then, const Fact& now) {
  const Interval earlier = then.As<Screening>()->score.total;
  const Interval later = now.As<Screening>()->score.total;
  if (condition.has_at_least_percent()) {
    const int percent = condition.at_least_percent().value();
    return way.worse ? RoseByPercent(earlier, later, percent)
                     : FellByPercent(earlier, later, percent);
  }
  const Scale& scale = *now.As<Screening>()->scale;
  return AtLeast(way.worse ? Worsening(scale, earlier, later)
                           : Worsening(scale, later, earlier),
                 condition.at_least().value());
}

// What `now` is compared with, oldest first. All earlier forms stand for the
// best of them, of which missing answers may hide which it is.
Forms Earlier(const v1::ChangeCondition& condition, const View& view,
              const Fact& now) {
  const std::string& instrument = condition.instrument();
  if (condition.than() == v1::COMPARED_WITH_BASELINE) {
    const Fact* baseline = view.Baseline(now, instrument);
    if (baseline == nullptr) return {};
    return {baseline};
  }
  Forms all = view.ScreeningsUpTo(now, instrument);
  all.pop_back();
  if (condition.than() == v1::COMPARED_WITH_PREVIOUS && all.size() > 1) {
    all.erase(all.begin(), all.end() - 1);
  }
  return all;
}

// A form held against what stands for the best of the earlier ones; null where
// there is none.
struct Comparison {
  Truth truth = v1::TRUTH_FALSE;
  const Fact* best = nullptr;
  const Fact* now = nullptr;
};

// Worse than the best is worse than any of them; better than the best is better
// than every one.
Comparison Compare(const v1::ChangeCondition& condition, const Way& way,
                   const View& view, const Fact& now) {
  const Forms earlier = Earlier(condition, view, now);
  if (earlier.empty()) return {};
  Truth truth = TruthOf(!way.worse);
  const Fact* best = earlier[0];
  for (const Fact* fact : earlier) {
    const Truth next = Differs(condition, way, *fact, now);
    truth = way.worse ? Or(truth, next) : And(truth, next);
    if (Worsening(*now.As<Screening>()->scale,
                  fact->As<Screening>()->score.total,
                  best->As<Screening>()->score.total)
            .low >= 0) {
      best = fact;
    }
  }
  return {truth, best, &now};
}

std::string ComparisonInWords(const Comparison& one, const View& view) {
  return absl::StrCat(
      "from ", ShortTotal(*one.best), " on ", view.Day(one.best->effective),
      " to ", ShortTotal(*one.now), " on ", view.Day(one.now->effective));
}

std::string Amount(const v1::ChangeCondition& condition) {
  if (condition.has_at_least_percent()) {
    return absl::StrCat(condition.at_least_percent().value(), " %");
  }
  return Count(condition.at_least().value(), "point");
}

Observation Observe(const v1::ChangeCondition& condition, const Way& way,
                    const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  const auto nothing_earlier = [&] { return NothingEarlier(instrument); };
  if (now == nullptr) return Saw(v1::TRUTH_FALSE, view, nothing_earlier);
  Truth truth = v1::TRUTH_TRUE;
  const auto forms =
      view.LatestScreenings(*now, instrument, RowLength(condition.in_a_row()));
  for (const Fact* form : forms) {
    const Comparison one = Compare(condition, way, view, *form);
    if (one.best == nullptr) {
      return Saw(v1::TRUTH_FALSE, view, nothing_earlier);
    }
    truth = And(truth, one.truth);
  }
  if (forms.empty()) return Saw(v1::TRUTH_FALSE, view, nothing_earlier);
  const auto went = [&](std::string* out, const Fact* form) {
    out->append(ComparisonInWords(Compare(condition, way, view, *form), view));
  };
  return Saw(truth, view, [&] {
    return absl::StrCat(
        "the ", now->As<Screening>()->scale->definition().name(),
        " total went ", absl::StrJoin(forms, ", and ", went), ", ",
        Verdict(truth), " ", Amount(condition), " ", way.word, " or more",
        forms.size() > 1 ? " each time" : "");
  });
}

}  // namespace

Observation ObserveWorse(const v1::ChangeCondition& condition,
                         const View& view) {
  return Observe(condition, kTowardsWorse, view);
}

Observation ObserveBetter(const v1::ChangeCondition& condition,
                          const View& view) {
  return Observe(condition, kTowardsBetter, view);
}

}  // namespace turnstone
