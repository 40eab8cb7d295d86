#include "tests/second/form.h"

#include <algorithm>
#include <set>

namespace turnstone::second {
namespace {

using ScoreByAnswer = std::map<std::string, std::optional<int>>;

// Every answer the item accepts, with its points. A reversed item counts from
// the other end of its list: the lowest answer gets the highest points.
ScoreByAnswer KeyOf(const v1::Instrument& instrument, const v1::Item& item) {
  ScoreByAnswer key;
  std::set<int> ends;
  for (const v1::AnswerList& list : instrument.answer_list()) {
    if (list.id() != item.answers()) continue;
    for (const v1::Answer& answer : list.answer()) {
      key[answer.code()] = std::nullopt;
      if (!answer.has_score()) continue;
      key[answer.code()] = answer.score();
      ends.insert(answer.score());
    }
  }
  for (const v1::Answer& answer : item.also_accepts()) {
    if (answer.has_score()) key[answer.code()] = answer.score();
  }
  for (auto& [code, points] : key) {
    if (item.unscored()) points.reset();
    if (points && item.reversed()) {
      points = *ends.begin() + *ends.rbegin() - *points;
    }
  }
  return key;
}

const v1::ItemAnswer* AnswerTo(const v1::Item& item,
                               const v1::ScreeningResult& result) {
  for (const v1::ItemAnswer& answer : result.answers()) {
    if (answer.question() == item.code()) return &answer;
    for (const std::string& other : item.also_coded()) {
      if (answer.question() == other) return &answer;
    }
  }
  return nullptr;
}

// `totals` with each of `more` added to each of them.
std::set<int> Sums(const std::set<int>& totals, const std::set<int>& more) {
  std::set<int> sums;
  for (const int total : totals) {
    for (const int points : more) sums.insert(total + points);
  }
  return sums;
}

std::set<int> PointsIn(const ScoreByAnswer& key) {
  std::set<int> points;
  for (const auto& [code, value] : key) {
    if (value) points.insert(*value);
  }
  return points;
}

// The sender's total beside the answers'. From the answers if there is any;
// where the two disagree, what the rules see holds both (rules/measure/score.h;
// the proto says only that neither replaces the other).
void HoldAgainst(int reported, const std::set<int>& possible, bool any_answer,
                 Form& form) {
  if (!any_answer) {
    form.low = form.high = reported;
    return;
  }
  form.disagrees = possible.count(reported) == 0;
  form.low = std::min(form.low, form.disagrees ? reported : form.low);
  form.high = std::max(form.high, form.disagrees ? reported : form.high);
}

}  // namespace

Form ReadForm(const World& world, const v1::ScreeningResult& result) {
  const v1::Instrument& instrument = world.instruments.at(result.instrument());
  Form form;
  form.instrument = instrument.id();
  form.higher_is_worse =
      instrument.direction() != v1::DIRECTION_HIGHER_IS_BETTER;
  std::set<int> possible = {0};
  bool any_answer = false;
  for (const v1::Item& item : instrument.item()) {
    if (item.self_harm()) form.self_harm_item = form.codes.size();
    const ScoreByAnswer key = KeyOf(instrument, item);
    const v1::ItemAnswer* answer = AnswerTo(item, result);
    const bool answered = answer != nullptr && answer->has_answer();
    form.codes.push_back(item.code());
    form.answered.push_back(answered);
    form.points.push_back(answered ? key.at(answer->answer()) : std::nullopt);
    if (item.unscored()) continue;
    any_answer = any_answer || answered;
    possible = Sums(possible, answered ? std::set<int>{*form.points.back()}
                                       : PointsIn(key));
  }
  const int times = instrument.has_multiplier() ? instrument.multiplier() : 1;
  std::set<int> totals;
  for (const int sum : possible) totals.insert(sum * times);
  form.low = *totals.begin();
  form.high = *totals.rbegin();
  if (result.has_reported_total()) {
    HoldAgainst(result.reported_total(), totals, any_answer, form);
  }
  form.done = any_answer || result.has_reported_total();
  for (const v1::Result& one : instrument.result()) {
    if (!result.has_result() || one.code() != result.result()) continue;
    form.done = !one.not_done();
    form.result_is_self_harm = one.self_harm();
  }
  return form;
}

}  // namespace turnstone::second
