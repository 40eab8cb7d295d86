// Conditions on the form the rule is asked about, and on totals by themselves.
#include <limits>

#include "tests/second/asked.h"

namespace turnstone::second {
namespace {

// Index of the item a condition names; nothing if the form has none such.
template <typename Which>
std::optional<size_t> ItemOf(const Which& which, const Form& form) {
  if (which.has_self_harm()) return form.self_harm_item;
  for (size_t i = 0; i < form.codes.size(); ++i) {
    if (form.codes[i] == which.question()) return i;
  }
  return std::nullopt;
}

v1::Truth ItemReaches(const v1::ItemCondition& item, const Form& form) {
  const std::optional<size_t> at = ItemOf(item, form);
  if (!at || !form.points[*at]) return v1::TRUTH_UNKNOWN;
  return Say(*form.points[*at] >= item.at_least().value());
}

v1::Truth NoAnswer(const v1::ItemUnanswered& item, const Form& form) {
  const std::optional<size_t> at = ItemOf(item, form);
  return Say(!at || !form.answered[*at]);
}

v1::Truth TotalWithin(const v1::ScoreCondition& score, const Asked& asked) {
  const int low = score.has_at_least() ? score.at_least().value()
                                       : std::numeric_limits<int>::min();
  const int high = score.has_at_most() ? score.at_most().value()
                                       : std::numeric_limits<int>::max();
  const size_t row =
      score.has_in_a_row() ? static_cast<size_t>(score.in_a_row().value()) : 1;
  std::vector<const Fact*> forms = Forms(asked, score.instrument());
  if (forms.empty()) return v1::TRUTH_UNKNOWN;
  if (forms.size() < row) return v1::TRUTH_FALSE;
  std::vector<v1::Truth> answers;
  for (size_t i = forms.size() - row; i < forms.size(); ++i) {
    answers.push_back(
        OfEach(forms[i]->form->low, forms[i]->form->high,
               [&](int total) { return Say(low <= total && total <= high); }));
  }
  return EveryOne(answers);
}

v1::Truth ResultIs(const v1::ResultCondition& result,
                   const v1::ScreeningResult& form) {
  if (!form.has_result()) return v1::TRUTH_UNKNOWN;
  for (const std::string& code : result.code()) {
    if (code == form.result()) return v1::TRUTH_TRUE;
  }
  return v1::TRUTH_FALSE;
}

}  // namespace

std::optional<v1::Truth> OfTheForm(const v1::Condition& condition,
                                   const Asked& asked) {
  const Fact& subject = asked.subject();
  const v1::ScreeningResult& sent = subject.event->screening_result();
  switch (condition.kind_case()) {
    case v1::Condition::kScore:
      return TotalWithin(condition.score(), asked);
    case v1::Condition::kItem:
      return ItemReaches(condition.item(), *subject.form);
    case v1::Condition::kItemUnanswered:
      return NoAnswer(condition.item_unanswered(), *subject.form);
    case v1::Condition::kTotalDisagrees:
      return Say(subject.form->disagrees);
    case v1::Condition::kResult:
      return ResultIs(condition.result(), sent);
    case v1::Condition::kWilling:
      return sent.has_willing() ? Say(sent.willing()) : v1::TRUTH_UNKNOWN;
    case v1::Condition::kWishRecorded:
      return Say(sent.has_willing());
    default:
      return std::nullopt;
  }
}

}  // namespace turnstone::second
