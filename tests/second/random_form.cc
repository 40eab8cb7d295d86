#include "tests/second/random_form.h"

#include <algorithm>

namespace turnstone::second {
namespace {

// How a form came to be.
struct Manner {
  int severity = 0;  // 0 to 100; which answers are likely
  int gaps = 0;      // percent of items without an answer
};

std::vector<v1::Answer> AcceptedBy(const v1::Instrument& instrument,
                                   const v1::Item& item) {
  std::vector<v1::Answer> accepted;
  for (const v1::AnswerList& list : instrument.answer_list()) {
    if (list.id() != item.answers()) continue;
    accepted.assign(list.answer().begin(), list.answer().end());
  }
  for (const v1::Answer& more : item.also_accepts()) accepted.push_back(more);
  return accepted;
}

std::string AnAnswer(const v1::Instrument& instrument, const v1::Item& item,
                     const Manner& manner, Dice& dice) {
  const std::vector<v1::Answer> accepted = AcceptedBy(instrument, item);
  if (item.self_harm() && dice.Once(70)) {
    return (item.reversed() ? accepted.back() : accepted.front()).code();
  }
  const int last = static_cast<int>(accepted.size()) - 1;
  const int about = (manner.severity * last + 50) / 100;
  const int at = std::clamp(about + dice.Between(-1, 1), 0, last);
  return accepted[static_cast<size_t>(item.reversed() ? last - at : at)].code();
}

void AnswerItems(const v1::Instrument& instrument, const Manner& manner,
                 Dice& dice, v1::ScreeningResult& form) {
  for (const v1::Item& item : instrument.item()) {
    const bool gap = dice.Once(item.unscored() ? 60 : manner.gaps);
    if (gap && dice.Once(50)) continue;
    v1::ItemAnswer& answer = *form.add_answers();
    answer.set_question(item.also_coded_size() > 0 && dice.Once(50)
                            ? item.also_coded(0)
                            : item.code());
    if (gap) {
      answer.set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    } else {
      answer.set_answer(AnAnswer(instrument, item, manner, dice));
    }
  }
}

int Points(const v1::Answer& answer) { return answer.score(); }

// A total within the instrument's range.
int ATotal(const v1::Instrument& instrument, Dice& dice) {
  int low = 0;
  int high = 0;
  for (const v1::Item& item : instrument.item()) {
    if (item.unscored()) continue;
    const std::vector<v1::Answer> accepted = AcceptedBy(instrument, item);
    const auto by_points = [](const v1::Answer& a, const v1::Answer& b) {
      return Points(a) < Points(b);
    };
    const auto ends =
        std::minmax_element(accepted.begin(), accepted.end(), by_points);
    low += Points(*ends.first);
    high += Points(*ends.second);
  }
  const int times = instrument.has_multiplier() ? instrument.multiplier() : 1;
  return times * dice.Between(low, high);
}

}  // namespace

v1::ScreeningResult RandomForm(const v1::Instrument& instrument, int severity,
                               Dice& dice) {
  v1::ScreeningResult form;
  form.set_instrument(instrument.has_panel_code() && dice.Once(20)
                          ? instrument.panel_code()
                          : instrument.id());
  if (dice.Once(50)) form.set_willing(dice.Once(60));
  if (instrument.item().empty()) {
    form.set_result(dice.OneOf(instrument.result()).code());
    return form;
  }
  const int manner = dice.Between(1, 100);
  if (manner <= 10) {
    form.set_reported_total(ATotal(instrument, dice));
    return form;
  }
  const int gaps = manner <= 60 ? 0 : manner <= 90 ? 12 : 100;
  AnswerItems(instrument, {severity, gaps}, dice, form);
  // With nothing at all it would not be a form.
  if (form.answers().empty() || dice.Once(15)) {
    form.set_reported_total(ATotal(instrument, dice));
  }
  return form;
}

}  // namespace turnstone::second
