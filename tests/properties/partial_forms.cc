#include "tests/properties/partial_forms.h"

#include <rapidcheck.h>

#include <string>
#include <utility>

#include "rules/measure/score.h"
#include "tests/measure/forms.h"

namespace turnstone::testing {
namespace {

std::vector<Scale> ScalesWithItems() {
  std::vector<Scale> scales;
  for (const std::string& id : InstrumentIds()) {
    Scale scale = LoadScale(id);
    if (scale.HasItems()) scales.push_back(std::move(scale));
  }
  return scales;
}

Interval TotalOf(const PartialForm& form, const std::vector<bool>& blank) {
  v1::ScreeningResult result;
  result.set_instrument(form.scale->definition().id());
  for (size_t item = 0; item < form.ticks.size(); ++item) {
    v1::ItemAnswer& given = *result.add_answers();
    given.set_question(
        form.scale->definition().item(static_cast<int>(item)).code());
    if (blank[item]) {
      given.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    } else {
      given.set_answer(form.scale->AnswersTo(item)[form.ticks[item]].code());
    }
  }
  return MustScore(*form.scale, result).total;
}

}  // namespace

const Scale& DrawScale() {
  static const auto* const kScales = new std::vector<Scale>(ScalesWithItems());
  return (*kScales)[*rc::gen::inRange<size_t>(0, kScales->size())];
}

PartialForm DrawForm(const Scale& scale, int blanks_max) {
  PartialForm form{&scale, {}, {}};
  int blanks = 0;
  for (int item = 0; item < scale.definition().item_size(); ++item) {
    const size_t answers = scale.AnswersTo(form.ticks.size()).size();
    form.ticks.push_back(*rc::gen::inRange<size_t>(0, answers));
    form.blank.push_back(blanks < blanks_max && *rc::gen::inRange(0, 6) == 0);
    if (form.blank.back()) ++blanks;
  }
  return form;
}

Interval PartialTotal(const PartialForm& form) {
  return TotalOf(form, form.blank);
}

Interval CompleteTotal(const PartialForm& form) {
  return TotalOf(form, std::vector<bool>(form.blank.size()));
}

}  // namespace turnstone::testing
