// Conditions on what the record holds from other days.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"
#include "rules/measure/change.h"

namespace turnstone {

Observation ObserveScreenings(const v1::ScreeningCount& condition,
                              const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  // How many there are for certain, and at most.
  Interval count;
  std::string low_enough;
  if (condition.has_total_at_most()) {
    low_enough =
        absl::StrCat(" of ", condition.total_at_most().value(), " or less");
  }
  for (const Fact* fact : now == nullptr
                              ? std::vector<const Fact*>()
                              : view.ScreeningsUpTo(*now, instrument)) {
    const Interval total = fact->As<Screening>()->score.total;
    const Truth counts =
        condition.has_total_at_most()
            ? Not(AtLeast(total, condition.total_at_most().value() + 1))
            : v1::TRUTH_TRUE;
    if (counts == v1::TRUTH_TRUE) ++count.low;
    if (counts != v1::TRUTH_FALSE) ++count.high;
  }
  const int least = condition.at_least().value();
  const Truth truth = AtLeast(count, least);
  return {truth, absl::StrCat(Count(count.low, "screening"), " with ",
                              instrument, low_enough, " so far, ",
                              Verdict(truth), " ", least, " or more")};
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
  const absl::Time from =
      condition.before_asking() ? view.due() : view.subject().effective;
  const absl::Time since = view.StartOfDay(from, days);
  const auto& wanted = condition.instrument();
  for (const Fact* fact : view.Facts()) {
    const auto* form = fact->As<Screening>();
    if (form == nullptr || fact->effective < since) continue;
    if (fact == &view.subject()) continue;
    const v1::Instrument& instrument = form->scale->definition();
    if (std::find(wanted.begin(), wanted.end(), instrument.id()) ==
        wanted.end()) {
      continue;
    }
    return {v1::TRUTH_TRUE,
            absl::StrCat("a ", instrument.name(), " was done on ",
                         view.Day(fact->effective))};
  }
  return {v1::TRUTH_FALSE,
          absl::StrCat("no ", absl::StrJoin(wanted, " or "),
                       " was done within ", Count(days, "day"), " before ",
                       view.Day(from), " or since")};
}

}  // namespace turnstone
