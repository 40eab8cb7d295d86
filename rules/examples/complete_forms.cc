#include "rules/examples/complete_forms.h"

#include <algorithm>
#include <map>
#include <utility>

namespace turnstone {
namespace {

// Forms filled in so far, by points in all and on the self-harm item.
using FormsSoFar = std::map<std::pair<int, int>, v1::ScreeningResult>;

FormsSoFar WithItem(const FormsSoFar& before, const Scale& scale, size_t item) {
  const v1::Item& question = scale.definition().item(static_cast<int>(item));
  FormsSoFar after;
  for (const auto& [points, form] : before) {
    for (const v1::Answer& answer : scale.AnswersTo(item)) {
      const int more =
          scale.FindAnswer(item, answer.code())->points.value_or(0);
      const std::pair key{points.first + more,
                          question.self_harm() ? more : points.second};
      const auto [place, is_new] = after.emplace(key, form);
      if (!is_new) continue;
      v1::ItemAnswer* given = place->second.add_answers();
      given->set_question(question.code());
      given->set_answer(answer.code());
    }
  }
  return after;
}

}  // namespace

std::vector<FormOfTotal> CompleteForms(const Scale& scale) {
  v1::ScreeningResult empty;
  empty.set_instrument(scale.definition().id());
  FormsSoFar forms = {{{0, 0}, empty}};
  for (int i = 0; i < scale.definition().item_size(); ++i) {
    if (scale.definition().item(i).unscored()) continue;
    forms = WithItem(forms, scale, static_cast<size_t>(i));
  }
  std::vector<FormOfTotal> result;
  result.reserve(forms.size());
  for (auto& [points, form] : forms) {
    result.push_back({points.first * scale.Multiplier(), std::move(form)});
  }
  return result;
}

}  // namespace turnstone
