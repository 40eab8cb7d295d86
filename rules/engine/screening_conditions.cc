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
    return {v1::TRUTH_UNKNOWN,
            absl::StrCat("there is no ", condition.instrument(), " so far")};
  }
  const std::vector<const Fact*> forms = view.LatestScreenings(
      *fact, condition.instrument(), RowLength(condition.in_a_row()));
  if (forms.empty()) {
    return {v1::TRUTH_FALSE,
            absl::StrCat("there are too few ", condition.instrument(),
                         " totals so far")};
  }
  Interval range = fact->As<Screening>()->scale->Range();
  if (condition.has_at_least()) range.low = condition.at_least().value();
  if (condition.has_at_most()) range.high = condition.at_most().value();
  Truth truth = v1::TRUTH_TRUE;
  std::vector<std::string> totals;
  totals.reserve(forms.size());
  for (const Fact* form : forms) {
    truth = And(truth, Within(form->As<Screening>()->score.total, range));
    totals.push_back(TotalOn(*form, view));
  }
  return {truth,
          absl::StrCat(absl::StrJoin(totals, ", and "), ", ", Verdict(truth),
                       " ", forms.size() > 1 ? "each time " : "",
                       RangeInWords(condition, range))};
}

Observation ObserveItem(const v1::ItemCondition& condition, const View& view) {
  const auto* form = view.subject().As<Screening>();
  const std::optional<size_t> item =
      form == nullptr
          ? std::nullopt
          : ItemIn(*form, condition.self_harm(), condition.question());
  if (!item) return {v1::TRUTH_UNKNOWN, "the form has no such item"};
  const std::optional<int> points = form->score.points[*item];
  const int least = condition.at_least().value();
  if (!points) {
    return {v1::TRUTH_UNKNOWN,
            absl::StrCat(ItemName(*form, *item), " has no answer")};
  }
  const Truth truth = TruthOf(*points >= least);
  return {truth, absl::StrCat(ItemName(*form, *item), " was answered with ",
                              Count(*points, "point"), ", ", Verdict(truth),
                              " ", least, " or more")};
}

Observation ObserveItemUnanswered(const v1::ItemUnanswered& condition,
                                  const View& view) {
  const auto* form = view.subject().As<Screening>();
  const std::optional<size_t> item =
      form == nullptr
          ? std::nullopt
          : ItemIn(*form, condition.self_harm(), condition.question());
  if (!item) return {v1::TRUTH_UNKNOWN, "the form has no such item"};
  const bool answered = form->score.answered[*item];
  return {TruthOf(!answered),
          absl::StrCat(ItemName(*form, *item),
                       answered ? " was answered" : " was left unanswered")};
}

Observation ObserveTotalDisagrees(const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr) return {v1::TRUTH_UNKNOWN, "this is not a screening"};
  if (!form->score.reported) {
    return {v1::TRUTH_FALSE, "no total was reported beside the answers"};
  }
  return {
      TruthOf(form->score.disagrees),
      absl::StrCat("the reported total of ", *form->score.reported,
                   form->score.disagrees ? " cannot come from" : " agrees with",
                   " the answers given")};
}

Observation ObserveResult(const v1::ResultCondition& condition,
                          const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr || !form->score.result) {
    return {v1::TRUTH_UNKNOWN, "the form states no result"};
  }
  const auto& wanted = condition.code();
  const bool found = std::find(wanted.begin(), wanted.end(),
                               *form->score.result) != wanted.end();
  return {TruthOf(found), ResultInWords(*form)};
}

Observation ObserveWishRecorded(const View& view) {
  const auto* form = view.subject().As<Screening>();
  const bool recorded = form != nullptr && form->willing.has_value();
  return {TruthOf(recorded),
          absl::StrCat("it is ", recorded ? "" : "not ",
                       "recorded whether the participant wants the programme")};
}

Observation ObserveWilling(const View& view) {
  const auto* form = view.subject().As<Screening>();
  if (form == nullptr || !form->willing) {
    return {v1::TRUTH_UNKNOWN,
            "it is not recorded whether the participant wants the programme"};
  }
  return {TruthOf(*form->willing),
          *form->willing ? "the participant wants the programme"
                         : "the participant does not want the programme"};
}

}  // namespace turnstone
