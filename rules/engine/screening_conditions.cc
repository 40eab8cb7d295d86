// Conditions on a single form: its total, its items, what was said beside it.
#include <absl/strings/str_cat.h>

#include "rules/engine/condition.h"
#include "rules/engine/wording.h"

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

Truth Compare(Interval total, int low, int high) {
  if (total.low >= low && total.high <= high) return v1::TRUTH_TRUE;
  if (total.high < low || total.low > high) return v1::TRUTH_FALSE;
  return v1::TRUTH_UNKNOWN;
}

}  // namespace

Observation ObserveScore(const v1::ScoreCondition& condition,
                         const View& view) {
  const Fact* fact = view.ScreeningOf(condition.instrument());
  if (fact == nullptr) {
    return {v1::TRUTH_UNKNOWN,
            absl::StrCat("there is no ", condition.instrument(), " so far")};
  }
  const auto& form = *fact->As<Screening>();
  const Interval range = form.scale->Range();
  const int low =
      condition.has_at_least() ? condition.at_least().value() : range.low;
  const int high =
      condition.has_at_most() ? condition.at_most().value() : range.high;
  const Truth truth = Compare(form.score.total, low, high);
  std::string text =
      absl::StrCat(TotalInWords(form), " on ", view.Day(fact->effective), ", ");
  absl::StrAppend(&text, Verdict(truth), " ");
  if (!condition.has_at_most()) {
    absl::StrAppend(&text, low, " or more");
  } else if (!condition.has_at_least()) {
    absl::StrAppend(&text, high, " or less");
  } else {
    absl::StrAppend(&text, "within ", low, " to ", high);
  }
  return {truth, text};
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
