// Conditions on a single form: its total, its items, what was said beside it.
#include <absl/strings/str_cat.h>
#include <absl/strings/str_join.h>

#include <algorithm>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"
#include "rules/measure/change.h"

namespace turnstone {
namespace {

// The asked-for item of the form the rule is asked about; absent when the form
// has no such item, which the checker rules out.
std::optional<size_t> ItemIn(const Screening& form, bool self_harm,
                             const std::string& question) {
  return self_harm ? form.scale->SelfHarmItem()
                   : form.scale->FindItem(question);
}

std::string ItemName(const Screening& form, size_t item) {
  const v1::Instrument& instrument = form.scale->definition();
  const v1::Item& definition = instrument.item(static_cast<int>(item));
  if (definition.self_harm()) {
    return absl::StrCat("the self-harm item of the ", instrument.name());
  }
  return absl::StrCat("the ", instrument.name(), " item \"", definition.label(),
                      "\"");
}

std::string RangeInWords(const v1::ScoreCondition& condition, Interval range) {
  if (!condition.has_at_most()) return absl::StrCat(range.low, " or more");
  if (!condition.has_at_least()) return absl::StrCat(range.high, " or less");
  return absl::StrCat("within ", range.low, " to ", range.high);
}

std::string TotalOn(const Fact& fact, const View& view) {
  return absl::StrCat(TotalInWords(*fact.As<Screening>()), " on ",
                      view.Day(fact.effective));
}

}  // namespace

Observation ObserveScore(const v1::ScoreCondition& condition,
                         const View& view) {
  const Fact* fact = view.ScreeningOf(condition.instrument());
  if (fact == nullptr) {
    return Saw(v1::TRUTH_UNKNOWN, view, [&] {
      return absl::StrCat("there is no ", condition.instrument(), " so far");
    });
  }
  const Forms forms = view.LatestScreenings(*fact, condition.instrument(),
                                            RowLength(condition.in_a_row()));
  if (forms.empty()) {
    return Saw(v1::TRUTH_FALSE, view, [&] {
      return absl::StrCat("there are too few ", condition.instrument(),
                          " totals so far");
    });
  }
  Interval range = fact->As<Screening>()->scale->Range();
  if (condition.has_at_least()) range.low = condition.at_least().value();
  if (condition.has_at_most()) range.high = condition.at_most().value();
  Truth truth = v1::TRUTH_TRUE;
  for (const Fact* form : forms) {
    truth = And(truth, Within(form->As<Screening>()->score.total, range));
  }
  const auto total_on = [&view](std::string* out, const Fact* form) {
    out->append(TotalOn(*form, view));
  };
  return Saw(truth, view, [&] {
    return absl::StrCat(
        absl::StrJoin(forms, ", and ", total_on), ", ", Verdict(truth), " ",
        forms.size() > 1 ? "each time " : "", RangeInWords(condition, range));
  });
}

Observation ObserveItem(const v1::ItemCondition& condition, const View& view) {
  const auto* form = view.subject().As<Screening>();
  const std::optional<size_t> item =
      form == nullptr
          ? std::nullopt
          : ItemIn(*form, condition.self_harm(), condition.question());
  if (!item)
    return Saw(v1::TRUTH_UNKNOWN, view,
               [&] { return "the form has no such item"; });
  const std::optional<int> points = form->score.points[*item];
  const int least = condition.at_least().value();
  if (!points) {
    return Saw(v1::TRUTH_UNKNOWN, view, [&] {
      return absl::StrCat(ItemName(*form, *item), " has no answer");
    });
  }
  const Truth truth = TruthOf(*points >= least);
  return Saw(truth, view, [&] {
    return absl::StrCat(ItemName(*form, *item), " was answered with ",
                        Count(*points, "point"), ", ", Verdict(truth), " ",
                        least, " or more");
  });
}

Observation ObserveItemUnanswered(const v1::ItemUnanswered& condition,
                                  const View& view) {
  const auto* form = view.subject().As<Screening>();
  const std::optional<size_t> item =
      form == nullptr
          ? std::nullopt
          : ItemIn(*form, condition.self_harm(), condition.question());
  if (!item)
    return Saw(v1::TRUTH_UNKNOWN, view,
               [&] { return "the form has no such item"; });
  const bool answered = form->score.answered[*item];
  return Saw(TruthOf(!answered), view, [&] {
    return absl::StrCat(ItemName(*form, *item),
                        answered ? " was answered" : " was left unanswered");
  });
}

Observation ObserveTotalDisagrees(const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr)
    return Saw(v1::TRUTH_UNKNOWN, view,
               [&] { return "this is not a screening"; });
  if (!form->score.reported) {
    return Saw(v1::TRUTH_FALSE, view,
               [&] { return "no total was reported beside the answers"; });
  }
  const bool disagrees = form->score.disagrees;
  return Saw(TruthOf(disagrees), view, [&] {
    return absl::StrCat("the reported total of ", *form->score.reported,
                        disagrees ? " cannot come from" : " agrees with",
                        " the answers given");
  });
}

Observation ObserveResult(const v1::ResultCondition& condition,
                          const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr || !form->score.result) {
    return Saw(v1::TRUTH_UNKNOWN, view,
               [&] { return "the form states no result"; });
  }
  const auto& wanted = condition.code();
  const bool found = std::find(wanted.begin(), wanted.end(),
                               *form->score.result) != wanted.end();
  return Saw(TruthOf(found), view, [&] { return ResultInWords(*form); });
}

Observation ObserveWishRecorded(const View& view) {
  const auto* form = view.subject().As<Screening>();
  const bool recorded = form != nullptr && form->willing.has_value();
  return Saw(TruthOf(recorded), view, [&] {
    return absl::StrCat("it is ", recorded ? "" : "not ",
                        "recorded whether the participant wants the programme");
  });
}

Observation ObserveWilling(const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr || !form->willing) {
    return Saw(v1::TRUTH_UNKNOWN, view, [&] {
      return "it is not recorded whether the participant wants the programme";
    });
  }
  return Saw(TruthOf(*form->willing), view, [&] {
    return *form->willing ? "the participant wants the programme"
                          : "the participant does not want the programme";
  });
}

}  // namespace turnstone
