// Conditions on what the record holds from other days.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"
#include "rules/measure/change.h"

namespace turnstone {

namespace {

// Whether `fact` counts as later than the one asked about. A copy of the same
// form sent by another system must not answer for it, so at the same moment
// only another instrument does.
bool IsSince(const Fact& fact, const Fact& subject, bool after_subject) {
  if (fact.effective != subject.effective) {
    return fact.effective > subject.effective;
  }
  const auto* form = subject.As<Screening>();
  return after_subject || form == nullptr ||
         form->scale != fact.As<Screening>()->scale;
}

}  // namespace

Observation ObserveScreenings(const v1::ScreeningCount& condition,
                              const View& view) {
  const std::string& instrument = condition.instrument();
  const Fact* now = view.ScreeningOf(instrument);
  // How many there are for certain, and at most.
  Interval count;
  for (const Fact* fact :
       now == nullptr ? Forms() : view.ScreeningsUpTo(*now, instrument)) {
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
  return Saw(truth, view, [&] {
    const std::string low_enough =
        condition.has_total_at_most()
            ? absl::StrCat(" of ", condition.total_at_most().value(),
                           " or less")
            : "";
    return absl::StrCat(Count(count.low, "screening"), " with ", instrument,
                        low_enough, " so far, ", Verdict(truth), " ", least,
                        " or more");
  });
}

Observation ObserveSelfHarmEarlier(const v1::SelfHarmEarlier& condition,
                                   const View& view) {
  const int days = condition.within_days().value();
  const absl::Time since = view.due() - absl::Hours(24) * days;
  Truth truth = v1::TRUTH_FALSE;
  const Fact* shown = nullptr;
  for (const Fact& fact : view.Facts()) {
    const auto* form = fact.As<Screening>();
    if (form == nullptr || fact.effective < since) continue;
    const std::optional<Truth> next = SelfHarmOf(*form);
    if (!next) continue;
    if (*next >= truth && *next != v1::TRUTH_FALSE) shown = &fact;
    truth = Or(truth, *next);
  }
  if (truth == v1::TRUTH_FALSE) {
    return Saw(truth, view, [&] {
      return absl::StrCat("no self-harm item was positive in the last ",
                          Count(days, "day"));
    });
  }
  const auto& form = *shown->As<Screening>();
  if (form.score.result) {
    return Saw(truth, view, [&] {
      return absl::StrCat(ResultInWords(form), " (", view.Day(shown->effective),
                          ")");
    });
  }
  return Saw(truth, view, [&] {
    return absl::StrCat(
        "the self-harm item on ", view.Day(shown->effective),
        truth == v1::TRUTH_TRUE ? " was positive" : " has no answer");
  });
}

Observation ObserveScreenedWithin(const v1::ScreenedWithin& condition,
                                  const View& view) {
  const Fact& subject = view.subject();
  const int days = condition.days().value();
  const absl::Time from =
      condition.before_asking() ? view.due() : subject.effective;
  const absl::Time begin = view.StartOfDay(from, days);
  const auto& wanted = condition.instrument();
  bool after_subject = false;
  for (const Fact& fact : view.Facts()) {
    if (&fact == &subject) {
      after_subject = true;
      continue;
    }
    const auto* form = fact.As<Screening>();
    if (form == nullptr || !WasDone(*form)) continue;
    const v1::Instrument& instrument = form->scale->definition();
    if (std::find(wanted.begin(), wanted.end(), instrument.id()) ==
        wanted.end()) {
      continue;
    }
    if (condition.since() ? !IsSince(fact, subject, after_subject)
                          : fact.effective < begin) {
      continue;
    }
    return Saw(v1::TRUTH_TRUE, view, [&] {
      return absl::StrCat("a ", instrument.name(), " was done on ",
                          view.Day(fact.effective));
    });
  }
  return Saw(v1::TRUTH_FALSE, view, [&] {
    const std::string when =
        condition.since()
            ? absl::StrCat("since ", view.Day(from))
            : absl::StrCat("within ", Count(days, "day"), " before ",
                           view.Day(from), " or since");
    return absl::StrCat("no ", absl::StrJoin(wanted, " or "), " was done ",
                        when);
  });
}

}  // namespace turnstone
