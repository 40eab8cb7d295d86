#include <absl/strings/str_cat.h>

#include <algorithm>
#include <map>
#include <utility>

#include "rules/examples/event_steps.h"
#include "rules/measure/score.h"

namespace turnstone {
namespace {

// What an item was given; null if it was left out.
v1::ItemAnswer* Given(v1::ScreeningResult& form, const Scale& scale,
                      size_t item) {
  for (v1::ItemAnswer& given : *form.mutable_answers()) {
    if (scale.FindItem(given.question()) == item) return &given;
  }
  return nullptr;
}

// The first answer of each number of points, the fewest first.
std::map<int, std::string> ByPoints(const Scale& scale, size_t item) {
  std::map<int, std::string> answers;
  for (const v1::Answer& answer : scale.AnswersTo(item)) {
    const AnswerKey* key = scale.FindAnswer(item, answer.code());
    if (key->points) answers.emplace(*key->points, answer.code());
  }
  return answers;
}

// "2 points", or the words of an answer that is not scored.
std::string PointsInWords(const Scale& scale, size_t item,
                          const std::string& answer) {
  const AnswerKey* key = scale.FindAnswer(item, answer);
  if (key->points) {
    return absl::StrCat(*key->points, *key->points == 1 ? " point" : " points");
  }
  for (const v1::Answer& known : scale.AnswersTo(item)) {
    if (known.code() == answer && !known.label().empty()) {
      return absl::StrCat("\"", known.label(), "\"");
    }
  }
  return answer;
}

// The reported total, if it is that of the answers, moves along with them.
void MoveTotal(const Scale& scale, const v1::ScreeningResult& before,
               v1::ScreeningResult& after) {
  const auto old_score = ScoreForm(scale, before);
  const auto new_score = ScoreForm(scale, after);
  if (!old_score.ok() || !new_score.ok() || !old_score->reported) return;
  v1::ScreeningResult alone = after;
  alone.clear_reported_total();
  const auto total = ScoreForm(scale, alone);
  if (!total.ok() || !total->total.IsPoint()) return;
  if (old_score->total.IsPoint() && !old_score->disagrees) {
    after.set_reported_total(total->total.low);
  }
}

}  // namespace

void EventSteps::OfForm() {
  const Scale* scale = catalogue_.Find(event_.screening_result().instrument());
  if (scale == nullptr) return;
  for (int i = 0; i < scale->definition().item_size(); ++i) {
    OfItem(*scale, static_cast<size_t>(i));
  }
  OfTotal(*scale);
  OfAnswersInAll(*scale);
  OfResult(*scale);
  OfWish();
}

void EventSteps::OfItem(const Scale& scale, size_t item) {
  v1::ScreeningResult form = event_.screening_result();
  // A total alone says nothing of the items.
  if (form.answers().empty()) return;
  const v1::ItemAnswer* given = Given(form, scale, item);
  if (given == nullptr || !given->has_answer()) {
    for (const v1::Answer& answer : scale.AnswersTo(item)) {
      OfAnswer(scale, item, answer.code());
    }
    return;
  }
  const AnswerKey* present = scale.FindAnswer(item, given->answer());
  if (present->points) {
    const std::map<int, std::string> answers = ByPoints(scale, item);
    const auto here = answers.find(*present->points);
    if (here != answers.begin()) OfAnswer(scale, item, std::prev(here)->second);
    if (std::next(here) != answers.end()) {
      OfAnswer(scale, item, std::next(here)->second);
    }
  }
  OfAnswer(scale, item, "");
}

void EventSteps::OfAnswer(const Scale& scale, size_t item,
                          const std::string& answer) {
  v1::Event changed = event_;
  v1::ScreeningResult& form = *changed.mutable_screening_result();
  const v1::Item& question = scale.definition().item(static_cast<int>(item));
  v1::ItemAnswer* given = Given(form, scale, item);
  std::string instead = ", which was not answered";
  if (given != nullptr && given->has_answer()) {
    const AnswerKey* key = scale.FindAnswer(item, given->answer());
    instead =
        absl::StrCat(" instead of ",
                     key->points ? absl::StrCat(*key->points)
                                 : PointsInWords(scale, item, given->answer()));
  }
  if (given == nullptr) {
    given = form.add_answers();
    given->set_question(question.code());
  }
  if (answer.empty()) {
    given->set_absent(v1::DATA_ABSENT_REASON_ASKED_DECLINED);
    Add(StepSize::kOneThing, std::move(changed),
        absl::StrCat("had no answer to \"", question.label(), "\""));
    return;
  }
  given->set_answer(answer);
  MoveTotal(scale, event_.screening_result(), form);
  Add(StepSize::kOneThing, std::move(changed),
      absl::StrCat("had ", PointsInWords(scale, item, answer), " on \"",
                   question.label(), "\"", instead));
}

void EventSteps::OfTotal(const Scale& scale) {
  const v1::ScreeningResult& form = event_.screening_result();
  if (!form.has_reported_total()) return;
  const int present = form.reported_total();
  const auto jump = [&](StepSize size, int to) {
    const Interval range = scale.Range();
    if (to < range.low || to > range.high || to % scale.Multiplier() != 0 ||
        to == present) {
      return;
    }
    v1::Event changed = event_;
    changed.mutable_screening_result()->set_reported_total(to);
    Add(size, std::move(changed),
        absl::StrCat("had a reported total of ", to, " instead of ", present));
  };
  jump(StepSize::kOneThing, present - scale.Multiplier());
  jump(StepSize::kOneThing, present + scale.Multiplier());
  for (const int number : options_.numbers) jump(StepSize::kManyPoints, number);
}

void EventSteps::OfResult(const Scale& scale) {
  const std::string& present = event_.screening_result().result();
  const v1::Result* known = scale.FindResult(present);
  if (known == nullptr) return;
  for (const v1::Result& other : scale.definition().result()) {
    if (other.code() == present) continue;
    v1::Event changed = event_;
    changed.mutable_screening_result()->set_result(other.code());
    Add(StepSize::kOneThing, std::move(changed),
        absl::StrCat("came out as \"", other.label(), "\" instead of \"",
                     known->label(), "\""));
  }
}

void EventSteps::OfWish() {
  const v1::ScreeningResult& form = event_.screening_result();
  for (const bool wish : {true, false}) {
    if (form.has_willing() && form.willing() == wish) continue;
    v1::Event changed = event_;
    changed.mutable_screening_result()->set_willing(wish);
    Add(StepSize::kOneThing, std::move(changed),
        wish ? "came with the wish to take part"
             : "came with the wish not to take part");
  }
  if (!form.has_willing()) return;
  v1::Event changed = event_;
  changed.mutable_screening_result()->clear_willing();
  Add(StepSize::kOneThing, std::move(changed),
      "did not say whether the person wants to take part");
}

}  // namespace turnstone
